"""How a decimal is shown and rounded: decimals come in, text or hundredths go out."""

from decimal import ROUND_HALF_UP, Decimal

_HUNDREDTH = Decimal("0.01")


def to_hundredths(value: Decimal) -> Decimal:
    """Round half up to hundredths; hours are kept so.

    >>> to_hundredths(Decimal("3.705"))
    Decimal('3.71')
    """
    return value.quantize(_HUNDREDTH, ROUND_HALF_UP)


def plain(value: Decimal) -> str:
    """Show a decimal without idle zeros and never with an exponent.

    >>> plain(Decimal("140.000")), plain(Decimal("30.303"))
    ('140', '30.303')
    """
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
