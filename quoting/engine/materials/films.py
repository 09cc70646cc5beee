"""Coats of a liquid: an area with its turn-ups and seams comes in; gallons, coat by coat, go out.

Areas are square feet, lengths feet, widths and heights inches, films mils (thousandths of an inch).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from labour.engine.refusal import Problem, Refusal
from labour.engine.why import Why
from quoting.engine.materials.consumption import show
from quoting.engine.materials.coverage import film_gallons, wet_film

MEMBRANE_COATS = 2
"""Coats of a liquid membrane under tile (common practice; the product's sheet decides)."""

_ZERO, _ONE = Decimal(0), Decimal(1)


class CannotCoat(Refusal):
    """An area, a film or a share that makes no sense."""


@dataclass(frozen=True, slots=True)
class Film:
    """One coat: wet_mils thick as it is spread; transfer: share of what leaves the can that stays there."""

    wet_mils: Decimal
    transfer: Decimal = _ONE


@dataclass(frozen=True, slots=True)
class Coated:
    """What is coated: the flat area, what turns up at its edges, and seams that get a strip of their own.

    turn_up_length: ft, turn_up_height: in. seam_length: ft, seam_width: in over both sides of the seam;
    seam_coats: coats laid there before the others.
    """

    area: Decimal
    turn_up_length: Decimal = _ZERO
    turn_up_height: Decimal = _ZERO
    seam_length: Decimal = _ZERO
    seam_width: Decimal = _ZERO
    seam_coats: int = 0

    @property
    def whole(self) -> Decimal:
        """Square feet that every coat covers: area + turn-up length × height ÷ 12."""
        return self.area + self.turn_up_length * self.turn_up_height / 12

    @property
    def strips(self) -> Decimal:
        """Square feet of one coat on the seams: length × width ÷ 12."""
        return self.seam_length * self.seam_width / 12


@dataclass(frozen=True, slots=True)
class FilmPlan:
    """covered: sq ft of every full coat. coats: gallons of each. strips: of the seams. gallons: in all."""

    covered: Decimal
    coats: tuple[Decimal, ...]
    strips: Decimal
    gallons: Decimal
    why: Why


def film_of(dry_mils: Decimal, solids: Decimal, transfer: Decimal = _ONE) -> Film:
    """The wet film that dries to dry_mils; solids: share of the volume that stays. Raise `CannotCoat`."""
    _check({"dry_mils": dry_mils}, {"solids": solids, "transfer": transfer})
    return Film(wet_film(dry_mils, solids), transfer)


def membrane(coated: Coated, films: Sequence[Film]) -> FilmPlan:
    """Gallons: for each coat area × wet mils ÷ 1604.17 ÷ transfer; seam strips take the first coat's film.

    Source: 231 cubic inches in a US gallon. Raise `CannotCoat`.
    """
    if not films:
        raise CannotCoat(Problem("films", "Name the film of one coat at least."))
    for film in films:
        _check({"wet_mils": film.wet_mils}, {"transfer": film.transfer})
    _check_sizes(coated)
    coats = tuple(film_gallons(coated.whole, film.wet_mils, film.transfer) for film in films)
    strips = coated.seam_coats * film_gallons(coated.strips, films[0].wet_mils, films[0].transfer)
    gallons = sum(coats, strips)
    return FilmPlan(coated.whole, coats, strips, gallons, _why(coated, films, strips, gallons))


def _why(coated: Coated, films: Sequence[Film], strips: Decimal, gallons: Decimal) -> Why:
    each = " + ".join(
        f"{show(film.wet_mils)} mil" + ("" if film.transfer == 1 else f" ÷ {show(film.transfer)}")
        for film in films
    )
    turned = f" + {show(coated.turn_up_length)} ft × {show(coated.turn_up_height)} in ÷ 12"
    covered = show(coated.area) + (turned if coated.turn_up_length else "")
    seams = f" + {show(strips)} gal on seams" if strips else ""
    return Why(
        "(area + turn-ups) × wet films ÷ 1604.17 sq ft·mil a gallon, + strips on seams",
        f"({covered}) = {show(coated.whole)} sq ft × ({each}) ÷ 1604.17{seams} = {show(gallons)} gal",
        "a gallon is 231 cu in; films: product sheet",
    )


def _check(figures: Mapping[str, Decimal], shares: Mapping[str, Decimal]) -> None:
    problems = [
        Problem(name, f"must be above zero, not {value}")
        for name, value in figures.items()
        if not (value.is_finite() and value > 0)
    ]
    problems += [
        Problem(name, f"is a share above 0 and at most 1, not {value}")
        for name, value in shares.items()
        if not (value.is_finite() and 0 < value <= 1)
    ]
    if problems:
        raise CannotCoat(*problems)


def _check_sizes(coated: Coated) -> None:
    names = ("area", "turn_up_length", "turn_up_height", "seam_length", "seam_width")
    sizes = {name: getattr(coated, name) for name in names} | {"seam_coats": Decimal(coated.seam_coats)}
    problems = [
        Problem(name, f"must be zero or more, not {value}")
        for name, value in sizes.items()
        if not (value.is_finite() and value >= 0)
    ]
    if problems:
        raise CannotCoat(*problems)
