"""The measured extent of what was found, as people write it: text comes in, feet to the dimension go out."""

import re
from decimal import Decimal

from labour.engine.refusal import Problem, Refusal
from quoting.engine.measure.lengths import Unit, parse_length

MOST_PIECES = 999
_LARGEST_AREA = Decimal(40_000)
_FEET_A_METRE = 1 / Decimal("0.3048")
_SIDES = re.compile(r"(?P<one>[^x×*]+)[x×*](?P<two>[^x×*]+)")
_AREA = re.compile(
    r"(?P<number>[0-9]{1,5}(?:\.[0-9]{1,4})?|\.[0-9]{1,4})\s*"
    r"(?P<unit>sq\.?\s*ft\.?|sf|ft2|ft²|square feet|sq\.?\s*m\.?|m2|m²|square metres|square meters)?"
)
_AREA_EXAMPLES = "12 sq ft, 1.2 m² or 3' x 4'"


class BadExtent(Refusal):
    """An extent that can not be read."""


def read_area(text: str, field: str, *, metric: bool = False) -> Decimal:
    """Square feet: "12 sq ft", "1.2 m²", "3' x 4'"; a plain number is in the firm's unit; empty is 0.

    >>> read_area("3' x 4' 6\\"", "area")
    Decimal('13.5')
    """
    typed = text.strip().lower()
    if not typed:
        return Decimal(0)
    if sides := _SIDES.fullmatch(typed):
        return read_length(sides["one"], field, metric=metric) * read_length(
            sides["two"], field, metric=metric
        )
    found = _AREA.fullmatch(typed)
    if found is None:
        raise BadExtent(Problem(field, f"“{text[:40]}” is not an area; write it like {_AREA_EXAMPLES}."))
    in_metres = "m" in found["unit"] if found["unit"] else metric
    area = Decimal(found["number"]) * (_FEET_A_METRE**2 if in_metres else 1)
    if area > _LARGEST_AREA:
        raise BadExtent(Problem(field, f"“{text[:40]}” is larger than any room. Check the unit."))
    return area


def read_length(text: str, field: str, *, metric: bool = False) -> Decimal:
    """Feet: as lengths are written everywhere; a plain number is in the firm's unit; empty is 0."""
    default: Unit = "m" if metric else "ft"
    if not text.strip():
        return Decimal(0)
    try:
        return parse_length(text.strip(), default).feet
    except Refusal as refusal:
        raise BadExtent(Problem(field, refusal.problems[0].message)) from None


def read_count(text: str, field: str) -> Decimal:
    """Pieces: a whole number; empty is 0."""
    typed = text.strip()
    if not typed:
        return Decimal(0)
    if not (typed.isascii() and typed.isdigit() and len(typed) <= 3):
        wanted = f"“{text[:40]}” is not a count; write a whole number from 1 to {MOST_PIECES}."
        raise BadExtent(Problem(field, wanted))
    return Decimal(typed)
