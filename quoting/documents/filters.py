"""Template filters: money, quantities, percentages, hours and dates are shown through these only.

Comes in: what a template is given, as Decimal or decimal text (dates: date or ISO text).
Goes out: the text a person reads; a dash where the value is not known.
Beside them the note that no mail server is set up.
"""

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from django import template

from labour.engine.units import UNITS
from quoting.documents.mailing import NoServer, find_no_server

register = template.Library()

type Figure = Decimal | int | str | None

_UNKNOWN = "—"
_SYMBOLS = {"": "$", "USD": "$", "CAD": "$", "EUR": "€", "GBP": "£"}
_CENT = Decimal("0.01")


def _signed(amount: Decimal, text: str) -> str:
    return f"−{text}" if amount < 0 else text


@register.filter
def money(value: Figure, currency: str = "") -> str:
    """An amount with two decimals and thousands separators; other currencies by their code.

    >>> money("-1234.5", "GBP")
    '−£1,234.50'
    """
    if value is None or value == "":
        return _UNKNOWN
    amount = Decimal(value)
    symbol = _SYMBOLS.get(currency, f"{currency} ")
    return _signed(amount, f"{symbol}{abs(amount):,.2f}")


@register.filter
def figure(value: Figure) -> str:
    """A quantity with thousands separators and at most two decimals, no trailing zeros.

    >>> figure("1040.50"), figure("12.00")
    ('1,040.5', '12')
    """
    if value is None or value == "":
        return _UNKNOWN
    amount = Decimal(value).quantize(_CENT, ROUND_HALF_UP)
    return _signed(amount, f"{abs(amount):,.2f}".rstrip("0").rstrip("."))


@register.filter
def percent(value: Figure) -> str:
    """A share in percent, given in percent.

    >>> percent("8.8750"), percent("13.00")
    ('8.875%', '13%')
    """
    if value is None or value == "":
        return _UNKNOWN
    share = Decimal(value)
    digits = f"{abs(share):,.4f}".rstrip("0").rstrip(".")
    return _signed(share, f"{digits}%")


@register.filter
def hours(value: Figure) -> str:
    """Labour-hours with their unit.

    >>> hours("7.50")
    '7.5 h'
    """
    return _UNKNOWN if value is None or value == "" else f"{figure(value)}\u00a0h"


@register.filter
def unit_label(code: str) -> str:
    """The unit as people write it; a unit that is not in the house's list shows as it is.

    >>> unit_label("sq_ft"), unit_label("lift")
    ('sq ft', 'lift')
    """
    return UNITS[code].label if code in UNITS else code


@register.filter
def halves[ItemT](items: Sequence[ItemT]) -> tuple[Sequence[ItemT], Sequence[ItemT]]:
    """A list in two columns, the first as long as the second or one longer.

    >>> halves([1, 2, 3])
    ([1, 2], [3])
    """
    middle = (len(items) + 1) // 2
    return items[:middle], items[middle:]


@register.filter
def how_much(line: Mapping[str, str]) -> str:
    """What follows a line's words: nothing for a single piece, a count in brackets, or a measure.

    >>> how_much({"quantity": "3.00", "unit": "each"}), how_much({"quantity": "27.50", "unit": "sq_ft"})
    (' (3)', ', 27.5 sq ft')
    """
    quantity, unit = figure(line["quantity"]), line["unit"]
    if unit == "each":
        return "" if quantity == "1" else f" ({quantity})"
    return f", {quantity} {unit_label(unit)}"


@register.filter
def long_date(value: date | str | None) -> str:
    """A date that reads the same in every country; text that is no ISO date shows as it is.

    >>> long_date("2026-11-02"), long_date("early May")
    ('November 2, 2026', 'early May')
    """
    if not value:
        return _UNKNOWN
    try:
        day = date.fromisoformat(value) if isinstance(value, str) else value
    except ValueError:
        return str(value)
    return f"{day:%B} {day.day}, {day.year}"


@register.filter
def is_nonzero(value: Figure) -> bool:
    """Whether an amount is worth a line of its own."""
    return value is not None and value != "" and Decimal(value) != 0


@register.inclusion_tag("parts/no_mail_server.html")
def no_mail_server_note() -> dict[str, NoServer | None]:
    """Beside what sends letters: says so when they reach nobody."""
    return {"no_server": find_no_server()}
