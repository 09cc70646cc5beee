"""Expressions of scope templates and consumption rules: how much of something a room needs, and when.

Comes in: text such as "wet_wall_area + niche_face_area" or "tub_count > 0 and wall_tile == 'large'".
Goes out: a value in feet to the expression's dimension (not rounded), or yes or no, for a measured room.
"""

import ast
import re
from collections.abc import Callable, Collection
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_UP, Decimal
from functools import lru_cache

from labour.engine.amounts import Misread, Truth, Value
from labour.engine.grammar import read_amount, read_truth
from labour.engine.refusal import Problem, Refusal
from labour.engine.scope import RoomFigures
from labour.engine.units import UNITS, from_feet
from labour.engine.vocabulary import CONDITIONS, FACTS, QUANTITY_BY_NAME, Dimension

LONGEST = 300
LARGEST = Decimal(10) ** 9
_HUNDREDTH = Decimal("0.01")
_ROUNDING_DUST = Decimal("1e-9")
_SHOWN_IN = {UNITS[code].dimension: UNITS[code] for code in ("each", "lin_ft", "sq_ft", "cu_ft")}
_WORD = re.compile(r"'[^']*'|\"[^\"]*\"|[A-Za-z_]\w*")
_FOREIGN = re.compile(r"[^A-Za-z0-9_ .,+\-*/()<>=!'\"\[\]]")
_GLUED = re.compile(r"(?<![A-Za-z0-9_])[0-9.]+[A-Za-z_]+")


class BadExpression(Refusal):
    """An expression cannot be read, or has no sensible value for a room. place: where it stands, if known."""

    def __init__(self, text: str, message: str, place: str = "") -> None:
        shown = text if len(text) <= 120 else text[:117] + "…"
        super().__init__(Problem(place, f"“{shown}”: {message}"))
        self.text = text
        self.message = message


@dataclass(frozen=True, slots=True)
class QuantityExpression:
    """How much. dimension: of the value. names: the derived quantities it speaks of."""

    text: str
    dimension: Dimension
    names: frozenset[str]
    compute: Value

    def value(self, figures: RoomFigures) -> Decimal:
        """The value for a room, in feet to the dimension, not rounded.

        Raise BadExpression for a division by zero, a negative or immense value, a missing figure.
        """
        number = _ask(self.text, figures, self.compute)
        if not number.is_finite() or abs(number) > LARGEST:
            raise BadExpression(self.text, f"gives a value beyond {LARGEST:,} in {figures.name}")
        if number < -_ROUNDING_DUST:
            wanted = f"gives {number:.2f} in {figures.name}, less than nothing; guard it with max(0, …)"
            raise BadExpression(self.text, wanted)
        return number if number > _ROUNDING_DUST else Decimal(0)

    def worked(self, figures: RoomFigures) -> str:
        """The expression with its numbers put in, and its value with its unit.

        Numbers stand to the hundredth, to the ten-thousandth where hundredths would not add up to the value.
        "wet_wall_area 82.50 + niche_face_area 3.00 = 85.50 sq ft"
        """
        unit = _SHOWN_IN[self.dimension]
        label = "" if self.dimension is Dimension.COUNT else f" {unit.label}"
        value = from_feet(self.value(figures), unit)
        total = _short(value, self.dimension) + label
        if self.text in QUANTITY_BY_NAME:
            return f"{self.text} {total}"
        shown = _round_figures(figures, self.names, _HUNDREDTH)
        if not self._comes_to(value, shown):
            shown = _round_figures(figures, self.names, _HUNDREDTH**2)
        return f"{_WORD.sub(lambda found: _with_figure(found[0], shown), self.text)} = {total}"

    def _comes_to(self, value: Decimal, figures: RoomFigures) -> bool:
        try:
            return from_feet(self.compute(figures), _SHOWN_IN[self.dimension]) == value
        except ArithmeticError:
            return False


@dataclass(frozen=True, slots=True)
class ConditionExpression:
    """When. An empty text always holds."""

    text: str
    names: frozenset[str]
    decide: Truth

    def holds(self, figures: RoomFigures) -> bool:
        """Whether the room is such. Raise BadExpression for a division by zero or a missing figure."""
        return _ask(self.text, figures, self.decide)


@lru_cache(maxsize=4096)
def parse_quantity(text: str) -> QuantityExpression:
    """Read an expression that says how much. Raise BadExpression naming what is wrong with it."""
    text, node = _parse(text)
    try:
        amount = read_amount(node, text)
    except Misread as misread:
        raise BadExpression(text, str(misread)) from None
    dimension = Dimension.COUNT if amount.dimension is None else amount.dimension
    return QuantityExpression(text, dimension, _quantities_in(node), amount.value)


@lru_cache(maxsize=4096)
def parse_condition(text: str) -> ConditionExpression:
    """Read an expression that says when; empty means always. Raise BadExpression naming what is wrong."""
    if not text.strip():
        return ConditionExpression("", frozenset(), lambda _: True)
    text, node = _parse(text)
    try:
        return ConditionExpression(text, _quantities_in(node), read_truth(node, text))
    except Misread as misread:
        raise BadExpression(text, str(misread)) from None


def _parse(text: str) -> tuple[str, ast.expr]:
    """The text on one line with its syntax tree."""
    if len(text) > LONGEST:
        raise BadExpression(text, f"has {len(text)} characters; at most {LONGEST} are read")
    text = " ".join(text.split())
    if not text:
        raise BadExpression(text, "is empty; write a quantity such as floor_area, or 1")
    if foreign := _FOREIGN.search(text):
        raise BadExpression(text, f"{foreign[0]!r} has no meaning here; use names, numbers, + - * / and ( )")
    if glued := _GLUED.search(text):
        raise BadExpression(text, f"{glued[0]} is neither a number nor a name; write 5 feet as ft(5)")
    try:
        return text, ast.parse(text, mode="eval").body
    except SyntaxError as error:
        raise BadExpression(text, f"cannot be read at character {error.offset or 1}; look there") from None
    except (ValueError, MemoryError, RecursionError):
        raise BadExpression(text, "cannot be read; split it over several lines") from None


def _quantities_in(node: ast.expr) -> frozenset[str]:
    names = {part.id for part in ast.walk(node) if isinstance(part, ast.Name)}
    return frozenset(names & QUANTITY_BY_NAME.keys())


def _ask[Answer](text: str, figures: RoomFigures, closure: Callable[[RoomFigures], Answer]) -> Answer:
    try:
        return closure(figures)
    except KeyError as missing:
        raise BadExpression(text, f"{figures.name} has no figure for {missing.args[0]}") from None
    except ZeroDivisionError:
        raise BadExpression(text, f"divides by zero in {figures.name}; add a condition > 0") from None
    except ArithmeticError:
        raise BadExpression(text, f"has no value in {figures.name}: its numbers do not compute") from None


def _with_figure(word: str, figures: RoomFigures) -> str:
    if word in QUANTITY_BY_NAME:
        return f"{word} {_short(figures.quantities[word], QUANTITY_BY_NAME[word].dimension)}"
    if word in FACTS:
        return f"{word} {figures.facts[word]}"
    if word in CONDITIONS:
        return f"{word} {'yes' if word in figures.conditions else 'no'}"
    return word


def _short(number: Decimal, dimension: Dimension) -> str:
    """A figure as it stands; a whole count without decimals."""
    return f"{number:.0f}" if dimension is Dimension.COUNT and number % 1 == 0 else str(number)


def _round_figures(figures: RoomFigures, names: Collection[str], step: Decimal) -> RoomFigures:
    rounded = {name: figures.quantities[name].quantize(step, ROUND_HALF_UP) for name in names}
    return replace(figures, quantities=rounded)
