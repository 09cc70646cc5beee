"""Units in which work and material are counted, and exact conversions between those of one dimension."""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from labour.engine.vocabulary import Dimension

_M_PER_FT = Decimal("0.3048")


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit; `per_foot` is how many of it make one foot to the power of its dimension."""

    code: str
    label: str
    dimension: Dimension
    per_foot: Decimal


UNITS: dict[str, Unit] = {
    unit.code: unit
    for unit in (
        Unit("each", "each", Dimension.COUNT, Decimal(1)),
        Unit("lin_ft", "lin ft", Dimension.LENGTH, Decimal(1)),
        Unit("sq_ft", "sq ft", Dimension.AREA, Decimal(1)),
        Unit("cu_ft", "cu ft", Dimension.VOLUME, Decimal(1)),
        Unit("m", "m", Dimension.LENGTH, _M_PER_FT),
        Unit("m2", "m²", Dimension.AREA, _M_PER_FT**2),
        Unit("m3", "m³", Dimension.VOLUME, _M_PER_FT**3),
    )
}

_HUNDREDTH = Decimal("0.01")


def from_feet(value: Decimal, unit: Unit) -> Decimal:
    """Express a value in feet to the unit's dimension in the unit, to the hundredth, half up.

    This is the one place where a measured quantity is rounded, so that what is shown multiplies out.

    >>> from_feet(Decimal("107.639104"), UNITS["m2"])
    Decimal('10.00')
    """
    return (value * unit.per_foot).quantize(_HUNDREDTH, ROUND_HALF_UP)
