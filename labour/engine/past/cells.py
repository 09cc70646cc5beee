"""Cells of a table of past jobs: text comes in; numbers, days, units and conditions go out, or a reason."""

import re
from datetime import date
from decimal import Decimal

from labour.engine.figures import to_hundredths
from labour.engine.past.values import DayOrder
from labour.engine.units import UNITS, Unit
from labour.engine.vocabulary import CONDITIONS

_GROUPED = re.compile(r"\d{1,3}(,\d{3})+(\.\d{1,4})?")
_PLAIN = re.compile(r"-?(\d{1,9}(\.\d{0,6})?|\.\d{1,6})")
_CLOCK = re.compile(r"(\d{1,3}):([0-5]\d)(:00)?")
_ISO_DAY = re.compile(r"(\d{4})-(\d{1,2})-(\d{1,2})([T ]00:00(:00)?)?")
_SLASHED = re.compile(r"(\d{1,2})[/.\-](\d{1,2})[/.\-](\d{4})")
_WORDS_OF_UNIT = {
    "each": ("each", "ea", "pc", "pcs", "piece", "pieces", "no"),
    "lin_ft": ("lin ft", "ft", "lf", "linear ft", "linear feet", "feet"),
    "sq_ft": ("sq ft", "sqft", "sf", "ft2", "square feet"),
    "cu_ft": ("cu ft", "cuft", "cf", "ft3"),
    "m": ("m", "lm"),
    "m2": ("m2", "m²", "sqm", "sq m"),
    "m3": ("m3", "m³"),
}
_UNIT_WORDS = {word: code for code, words in _WORDS_OF_UNIT.items() for word in words}
_CONDITION_WORDS = {
    words.casefold(): name
    for name, meaning in CONDITIONS.items()
    for words in (name, name.replace("_", " "), meaning, meaning.partition(":")[0])
}


class Unreadable(ValueError):
    """A cell that can not be read; the message says what would be right."""


def split_cell(text: str) -> list[str]:
    """What stands between semicolons, without idle spaces."""
    return [part.strip() for part in text.split(";") if part.strip()]


def number_of(text: str, what: str) -> Decimal:
    """A number such as 12, 12.5 or 1,250.75; a currency sign before it is passed over. Raise Unreadable."""
    bare = text.strip().lstrip("$€£").strip()
    if _GROUPED.fullmatch(bare):
        bare = bare.replace(",", "")
    if not _PLAIN.fullmatch(bare):
        raise Unreadable(f"{what} “{text[:30]}” is not a number such as 12.5")
    return Decimal(bare)


def hours_of(text: str) -> Decimal:
    """Labour-hours more than 0, to the hundredth: 7.5 or 7:30. Raise Unreadable."""
    clock = _CLOCK.fullmatch(text.strip())
    exact = Decimal(clock[1]) + Decimal(clock[2]) / 60 if clock else number_of(text, "hours")
    hours = to_hundredths(exact)
    if not 0 < hours < 1000:
        raise Unreadable(f"hours are {text.strip()[:30]}; they must be more than 0 and less than 1,000")
    return hours


def day_of(text: str, order: DayOrder, today: date) -> date:
    """A day that is not in the future: 2026-03-04, or 3/4/2026 as `order` means it. Raise Unreadable."""
    bare = text.strip()
    try:
        if iso := _ISO_DAY.fullmatch(bare):
            day = date(int(iso[1]), int(iso[2]), int(iso[3]))
        elif slashed := _SLASHED.fullmatch(bare):
            first, second, year = int(slashed[1]), int(slashed[2]), int(slashed[3])
            month, number = (first, second) if order is DayOrder.MONTH_FIRST else (second, first)
            day = date(year, month, number)
        else:
            raise ValueError
    except ValueError:
        raise Unreadable(f"the day “{text[:30]}” is not a day such as 2026-03-04") from None
    if not date(1970, 1, 1) <= day <= today:
        raise Unreadable(f"the day {day} is not between 1970 and today")
    return day


def unit_of(text: str) -> Unit:
    """The unit that a word means. Raise Unreadable."""
    word = text.strip().casefold().rstrip(".")
    code = _UNIT_WORDS.get(word, word)
    if code not in UNITS:
        raise Unreadable(f"the unit “{text[:20]}” is not known; write sq ft, lin ft, each, m², m")
    return UNITS[code]


def in_unit(quantity: Decimal, unit: Unit, wanted: Unit) -> Decimal:
    """The quantity in the wanted unit, to the hundredth. Raise Unreadable when they measure other things."""
    if unit.dimension is not wanted.dimension:
        raise Unreadable(f"the task is counted in {wanted.label}, not in {unit.label}")
    return to_hundredths(quantity * wanted.per_foot / unit.per_foot)


def condition_of(text: str) -> str:
    """The condition that a word or a meaning names. Raise Unreadable."""
    name = _CONDITION_WORDS.get(text.strip().casefold())
    if name is None:
        known = ", ".join(key.replace("_", " ") for key in CONDITIONS)
        raise Unreadable(f"the condition “{text[:30]}” is not known; known are {known}")
    return name
