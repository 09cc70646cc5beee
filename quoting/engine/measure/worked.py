"""Figures with their why: exact values in storage units come in; feet and worked texts go out."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from labour.engine.units import UNITS, from_feet
from labour.engine.vocabulary import QUANTITY_BY_NAME, Dimension
from labour.engine.why import Why
from quoting.engine.measure.lengths import PER_UNIT

AS_MEASURED = "as measured"
_UNIT = {
    Dimension.COUNT: UNITS["each"],
    Dimension.LENGTH: UNITS["lin_ft"],
    Dimension.AREA: UNITS["sq_ft"],
    Dimension.VOLUME: UNITS["cu_ft"],
}


@dataclass(frozen=True, slots=True)
class Figure:
    """A derived quantity. value: in storage units to its dimension."""

    name: str
    value: Fraction
    why: Why

    @property
    def feet(self) -> Decimal:
        """The value in feet to its dimension: exact where 28 digits can say it."""
        return to_feet(self.value, QUANTITY_BY_NAME[self.name].dimension)


def figure(
    name: str, value: Fraction | int, formula: str, worked: str = "", source: str = AS_MEASURED
) -> Figure:
    """A figure whose worked text ends in its result, after `worked` and an equals sign if that has terms."""
    dimension = QUANTITY_BY_NAME[name].dimension
    exact = Fraction(value)
    total = result(exact, dimension)
    has_terms = " " in worked and any(digit in worked for digit in "123456789")
    return Figure(name, exact, Why(formula, f"{worked} = {total}" if has_terms else total, source))


def to_feet(value: Fraction, dimension: Dimension) -> Decimal:
    """Storage units to the dimension, in feet to it."""
    feet = value / PER_UNIT["ft"] ** dimension
    return Decimal(feet.numerator) / Decimal(feet.denominator)


def result(value: Fraction, dimension: Dimension) -> str:
    """As it is counted: "40.00 sq ft", "3"."""
    if dimension is Dimension.COUNT:
        return str(int(value))
    unit = _UNIT[dimension]
    return f"{from_feet(to_feet(value, dimension), unit)} {unit.label}"


def ft(value: Fraction | int) -> str:
    """A length within a worked text: feet, at most four decimals."""
    return _decimals(Fraction(value) / PER_UNIT["ft"])


def sq_ft(value: Fraction | int) -> str:
    """An area within a worked text: square feet, at most four decimals."""
    return _decimals(Fraction(value) / PER_UNIT["ft"] ** 2)


def added(terms: Iterable[str]) -> str:
    """Terms with plus signs between them; "0" when there are none."""
    return " + ".join(terms) or "0"


def _decimals(feet: Fraction) -> str:
    scaled = (2 * feet.numerator * 10_000 + feet.denominator) // (2 * feet.denominator)
    whole, part = divmod(abs(scaled), 10_000)
    text = f"{whole}.{part:04d}".rstrip("0").rstrip(".")
    return f"−{text}" if scaled < 0 else text
