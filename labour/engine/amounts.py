"""The arithmetic of expressions: parts with a dimension, and what may be done with them.

Comes in: parts already read. Goes out: an `Amount` whose dimension is known before any room is measured.
"""

import ast
import operator
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from difflib import get_close_matches

from labour.engine.scope import RoomFigures
from labour.engine.vocabulary import CONDITIONS, FACTS, QUANTITY_BY_NAME, Dimension

DIMENSION_WORDS = {
    Dimension.COUNT: "a count",
    Dimension.LENGTH: "a length (lin ft)",
    Dimension.AREA: "an area (sq ft)",
    Dimension.VOLUME: "a volume (cu ft)",
}
_FEET_A_METRE = 1 / Decimal("0.3048")
MAKERS: dict[str, tuple[Dimension, Decimal]] = {
    "ft": (Dimension.LENGTH, Decimal(1)),
    "inch": (Dimension.LENGTH, 1 / Decimal(12)),
    "m": (Dimension.LENGTH, _FEET_A_METRE),
    "mm": (Dimension.LENGTH, _FEET_A_METRE / 1000),
    "sq_ft": (Dimension.AREA, Decimal(1)),
    "m2": (Dimension.AREA, _FEET_A_METRE**2),
}
"""Functions that make a length or an area of a number, with the feet (to the dimension) that one is."""
FUNCTIONS = ("min", "max", "ceil", "floor", *MAKERS)
_NAMES = (*QUANTITY_BY_NAME, *FACTS, *CONDITIONS, *FUNCTIONS)
_NUMBER = re.compile(r"\d{1,9}(\.\d{1,9})?|\.\d{1,9}")
_BILLIONTH = Decimal("1e-9")

type Value = Callable[[RoomFigures], Decimal]
type Truth = Callable[[RoomFigures], bool]
type Compare = Callable[[Decimal, Decimal], bool]

_COMPARE: dict[type[ast.cmpop], Compare] = {
    ast.Lt: operator.lt,
    ast.LtE: operator.le,
    ast.Gt: operator.gt,
    ast.GtE: operator.ge,
    ast.Eq: operator.eq,
    ast.NotEq: operator.ne,
}


class Misread(Exception):
    """The expression says something it may not; the message tells a person what would be right."""


@dataclass(frozen=True, slots=True)
class Amount:
    """A number-valued part. dimension None: a bare 0, which goes with every dimension."""

    dimension: Dimension | None
    value: Value
    said: str

    @property
    def described(self) -> str:
        """The part and what it is, for messages."""
        words = DIMENSION_WORDS[self.dimension or Dimension.COUNT]
        return f"{self.said} is {words}"


def guess_name(word: str, names: Sequence[str]) -> str:
    """The end of a message: the nearest known name, or nothing when none is near."""
    near = get_close_matches(word, names, n=1)
    return f"; did you mean {near[0]}?" if near else ""


def number_amount(written: str) -> Amount:
    """A number as it was written. Raise Misread for exponents, underscores and very long ones."""
    if not _NUMBER.fullmatch(written):
        raise Misread(f"{written[:40]} is not a plain number such as 12 or 0.75 (at most 9 digits each side)")
    number = Decimal(written)
    return Amount(Dimension.COUNT if number else None, lambda _: number, written)


def quantity_amount(name: str) -> Amount:
    """A derived quantity of the room by its name. Raise Misread with the nearest known name."""
    if name in QUANTITY_BY_NAME:
        return Amount(QUANTITY_BY_NAME[name].dimension, lambda figures: figures.quantities[name], name)
    if name in FACTS:
        raise Misread(f"{name} is a text where a number belongs")
    if name in CONDITIONS:
        raise Misread(f"{name} is yes or no where a number belongs")
    if name in FUNCTIONS:
        raise Misread(f"{name} is a function; write {name}(…)")
    raise Misread(f"{name[:40]} is not a known name{guess_name(name, _NAMES)}")


def _same_dimension(parts: Sequence[Amount]) -> Dimension | None:
    dimensions = {part.dimension for part in parts} - {None}
    if len(dimensions) > 1:
        first = next(part for part in parts if part.dimension is not None)
        other = next(part for part in parts if part.dimension not in (None, first.dimension))
        wanted = DIMENSION_WORDS[first.dimension or Dimension.COUNT]
        raise Misread(f"{other.described} where {wanted} belongs, beside {first.said}")
    return next(iter(dimensions), None)


def arithmetic(sign: ast.operator, parts: tuple[Amount, Amount], said: str) -> Amount:
    """Sum, difference, product or quotient. Raise Misread when the dimensions do not allow it."""
    left, right = parts
    one, two = left.value, right.value
    match sign:
        case ast.Add():
            return Amount(_same_dimension(parts), lambda figures: one(figures) + two(figures), said)
        case ast.Sub():
            return Amount(_same_dimension(parts), lambda figures: one(figures) - two(figures), said)
        case ast.Mult():
            power = _power(left, right, 1, said)
            return Amount(power, lambda figures: one(figures) * two(figures), said)
        case ast.Div():
            power = _power(left, right, -1, said)
            return Amount(power, lambda figures: one(figures) / two(figures), said)
    raise Misread(f"{said}: only + - * / are known")


def _power(left: Amount, right: Amount, direction: int, said: str) -> Dimension | None:
    if left.dimension is None or (right.dimension is None and direction > 0):
        return None
    if right.dimension is None:
        raise Misread(f"{said} divides by zero")
    power = left.dimension + direction * right.dimension
    if not 0 <= power <= max(Dimension):
        raise Misread(f"{said} is neither a count, a length, an area nor a volume")
    return Dimension(power)


def choose(test: Truth, choice: tuple[Amount, Amount], said: str) -> Amount:
    """The first when the test holds, else the second; both of one dimension."""
    yes, no = choice[0].value, choice[1].value
    return Amount(
        _same_dimension(choice), lambda figures: yes(figures) if test(figures) else no(figures), said
    )


def check_function(name: str) -> None:
    """Raise Misread when there is no such function."""
    if name not in FUNCTIONS:
        known = ", ".join(FUNCTIONS)
        raise Misread(f"{name[:40]} is not a known function{guess_name(name, FUNCTIONS)} (known: {known})")


def call(name: str, parts: Sequence[Amount], said: str) -> Amount:
    """The value of a known function. Raise Misread for a wrong number or dimension of its arguments."""
    if name in ("min", "max"):
        return _extreme(name, parts, said)
    if len(parts) != 1:
        raise Misread(f"{name} takes one number, as in {name}(3)")
    part = parts[0]
    if part.dimension not in (None, Dimension.COUNT):
        better = f"; divide it first, as in {name}({part.said} / ft(8))" if name in ("ceil", "floor") else ""
        raise Misread(f"{part.described} where {name} takes a plain number{better}")
    if name in MAKERS:
        dimension, feet = MAKERS[name]
        return Amount(dimension, lambda figures: part.value(figures) * feet, said)
    rounding = ROUND_CEILING if name == "ceil" else ROUND_FLOOR
    return Amount(Dimension.COUNT, lambda figures: _whole(part.value(figures), rounding), said)


def _whole(number: Decimal, rounding: str) -> Decimal:
    """Round to whole pieces; the last digits of a division (2.000…01) do not make one more piece."""
    return number.quantize(_BILLIONTH).to_integral_value(rounding)


def _extreme(name: str, parts: Sequence[Amount], said: str) -> Amount:
    if len(parts) < 2:
        raise Misread(f"{name} takes two or more values, as in {name}(tub_count, 1)")
    pick = min if name == "min" else max
    values = [part.value for part in parts]
    return Amount(_same_dimension(parts), lambda figures: pick(value(figures) for value in values), said)


def compare_amounts(sign: ast.cmpop, pair: tuple[Amount, Amount]) -> Truth:
    """Whether the two stand in this order; both of one dimension."""
    compare = _COMPARE.get(type(sign))
    if compare is None:
        raise Misread(f"numbers are compared with < <= > >= == !=, beside {pair[0].said}")
    _same_dimension(pair)
    one, two = pair[0].value, pair[1].value
    return lambda figures: compare(one(figures), two(figures))
