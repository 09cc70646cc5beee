"""Paint by coats: an area and its coats come in; gallons of each product go out. Areas are square feet."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from labour.engine.refusal import Problem
from labour.engine.why import Why
from quoting.engine.materials.consumption import show
from quoting.engine.materials.coverage import coverage_per_gallon
from quoting.engine.materials.films import CannotCoat, Film


@dataclass(frozen=True, slots=True)
class Coat:
    """One coat of a product; covers: sq ft a gallon, as its label says for such a surface."""

    product: str
    covers: Decimal


@dataclass(frozen=True, slots=True)
class PaintPlan:
    """gallons: by product, in the order of the coats; coats of one product are added up."""

    gallons: dict[str, Decimal]
    why: Why


def coat_of(product: str, film: Film) -> Coat:
    """A coat of which the film is known: covers 1604.17 × transfer ÷ wet mils."""
    return Coat(product, coverage_per_gallon(film.wet_mils) * film.transfer)


def paint_for(area: Decimal, coats: Sequence[Coat]) -> PaintPlan:
    """Gallons: area ÷ what a gallon covers, for every coat. Source: the product's label.

    New board takes a primer before its two coats, painted walls take two (common practice). Raise
    `CannotCoat` naming the coat.
    """
    problems = [
        Problem(f"coats[{place}].covers", f"must be above zero, not {coat.covers}")
        for place, coat in enumerate(coats)
        if not (coat.covers.is_finite() and coat.covers > 0)
    ]
    if not (area.is_finite() and area >= 0):
        problems.append(Problem("area", f"must be zero or more, not {area}"))
    if problems:
        raise CannotCoat(*problems)
    gallons: dict[str, Decimal] = {}
    for coat in coats:
        gallons[coat.product] = gallons.get(coat.product, Decimal(0)) + area / coat.covers
    worked = "; ".join(f"{coat.product}: {show(area)} ÷ {show(coat.covers)}" for coat in coats)
    total = ", ".join(f"{product} {show(amount)} gal" for product, amount in gallons.items())
    return PaintPlan(gallons, Why("area ÷ what a gallon covers, each coat", f"{worked} → {total}", "label"))
