"""Money as Decimal: the only rounding to the cent, splitting without losing a cent, reading what is typed.

Comes in: Decimals in the firm's currency, or text. Goes out: Decimals with exactly two decimals.
"""

import re
from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal
from math import lcm

from labour.engine.refusal import Problem, Refusal

ZERO = Decimal("0.00")
LARGEST = Decimal("99999999.99")
"""Far above any bathroom; a larger figure is a slip of the keyboard."""

_CENT = Decimal("0.01")
_TYPED = re.compile(
    r"(?P<sign>[-−+]?)\s*[$€£]?\s*(?P<whole>[0-9]{1,3}(?:,[0-9]{3})+|[0-9]*)(?P<cents>\.[0-9]+)?"
)


class BadMoney(Refusal):
    """An amount that cannot be read, rounded or split."""


def to_cents(value: Decimal) -> Decimal:
    """Round to the cent, half up (a half cent goes away from zero), and never give −0.00.

    This is the one place where money is rounded. An amount that is not a number, or of more than 26
    digits, raises `BadMoney`.

    >>> to_cents(Decimal("365.125"))
    Decimal('365.13')
    """
    if not value.is_finite() or value.adjusted() > 25:
        raise BadMoney(f"An amount must be a plain number to round it to the cent, not {value}.")
    rounded = value.quantize(_CENT, ROUND_HALF_UP)
    return rounded if rounded else ZERO


def split_by_shares(total: Decimal, shares: Sequence[Decimal]) -> tuple[Decimal, ...]:
    """Split a sum in proportion to the shares, to the cent, so that the pieces add up to it exactly.

    Largest remainder: each piece is cut down to the cent, and the cents left go one each to the largest
    cut-off fractions, the first among equals. Shares that are all zero split evenly. A negative sum is
    split like its opposite. Raise `BadMoney` for a sum of parts of a cent, a negative share, or no shares.

    >>> split_by_shares(Decimal("10.00"), [Decimal(1), Decimal(1), Decimal(1)])
    (Decimal('3.34'), Decimal('3.33'), Decimal('3.33'))
    """
    if to_cents(total) != total:
        raise BadMoney(f"A sum must be in whole cents to be split, not {total}.")
    if any(not share.is_finite() or share < 0 for share in shares):
        raise BadMoney("Shares must be zero or more to split a sum by them.")
    if not shares:
        if total:
            raise BadMoney(f"There must be at least one share to split {total} over.")
        return ()
    weights = _whole_weights(shares) if any(shares) else [1] * len(shares)
    pieces = _largest_remainder(int(abs(total) * 100), weights)
    sign = -1 if total < 0 else 1
    return tuple(to_cents(Decimal(sign * piece) / 100) for piece in pieces)


def _whole_weights(shares: Sequence[Decimal]) -> list[int]:
    """The shares as whole numbers in the same proportion, so that the split is exact."""
    ratios = [share.as_integer_ratio() for share in shares]
    common = lcm(*(denominator for _, denominator in ratios))
    return [numerator * (common // denominator) for numerator, denominator in ratios]


def _largest_remainder(cents: int, weights: Sequence[int]) -> list[int]:
    """Whole cents for each weight, adding up to `cents`."""
    whole = sum(weights)
    divided = [divmod(cents * weight, whole) for weight in weights]
    pieces = [piece for piece, _ in divided]
    by_remainder = sorted(range(len(divided)), key=lambda place: -divided[place][1])
    for place in by_remainder[: cents - sum(pieces)]:
        pieces[place] += 1
    return pieces


def percent_of(part: Decimal, whole: Decimal) -> Decimal:
    """A share in percent, to the hundredth, half up; 0.00 of nothing.

    >>> percent_of(Decimal("25.00"), Decimal("125.00"))
    Decimal('20.00')
    """
    return to_cents(100 * part / whole) if whole else ZERO


def read_money(text: str, field: str = "") -> Decimal:
    """Read an amount as people type it: "1,250.00", "$1,250", "-75.50". Raise `BadMoney` naming the field.

    >>> read_money("$1,250")
    Decimal('1250.00')
    """
    shown = text.strip()[:24]
    match = _TYPED.fullmatch(text.strip())
    if match is None or not (match["whole"] or match["cents"]):
        raise BadMoney(Problem(field, f"“{shown}” is not an amount; write it like 1250.00 or $1,250.00."))
    if match["cents"] and len(match["cents"]) > 3:
        raise BadMoney(Problem(field, f"“{shown}” has parts of a cent; write two decimals, like 12.50."))
    whole = (match["whole"] or "0").replace(",", "").lstrip("0") or "0"
    if len(whole) > len(str(int(LARGEST))):
        raise BadMoney(Problem(field, f"“{shown}” is too large; amounts go up to {LARGEST:,}."))
    amount = to_cents(Decimal(f"{whole}{match['cents'] or ''}"))
    return to_cents(-amount) if match["sign"] in ("-", "−") else amount
