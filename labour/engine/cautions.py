"""What can hurt people, as decision tables: codes and the year of the house come in, plain cautions go out.

Each caution says what may be there and what is usually done about it; none says that work meets a rule.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from labour.engine.refusal import Problem, Refusal

LEAD_BEFORE = 1978
"""Dwellings built before this year fall under the lead rule (40 CFR 745 subpart E)."""

LEAD_MINOR_REPAIR_SQ_FT = Decimal(6)
"""Painted surface per room, inside, up to which a repair is minor (40 CFR 745.83)."""

LEAD_ONE_JOB = timedelta(days=30)
"""Work in one room within this time counts as one job (40 CFR 745.83)."""

ASBESTOS_UNTIL = 1980
"""Flooring, surfacing and insulation installed no later are presumed to hold asbestos (29 CFR 1910.1001)."""


class UnknownCaution(Refusal):
    """A caution code that is not in the table."""


@dataclass(frozen=True, slots=True)
class Caution:
    """A caution in words for owner, crew and client. source: the rule it follows, or "common practice"."""

    code: str
    title: str
    text: str
    source: str


GENERAL_CAUTION = (
    "Local codes and licensed practice decide; this paper does not state that any work complies with a code."
)
"""The sentence that ends the cautions of every quote, work sheet and document."""

CAUTIONS: dict[str, Caution] = {
    caution.code: caution
    for caution in (
        Caution(
            "silica",
            "Silica dust",
            "Cutting or breaking tile, mortar, board or concrete frees silica dust, which scars the "
            "lungs. Cut wet or with dust collection at the tool, wear a respirator where the dust rule "
            "asks for one, and keep everyone else out of the room while it is done.",
            "29 CFR 1926.1153",
        ),
        Caution(
            "lead",
            "Old paint may hold lead",
            "The house was built before 1978, or its year is not known, so old paint is treated as lead "
            "paint unless a test shows otherwise. Painted surfaces are disturbed only in a lead-safe "
            "way: area closed off, dust kept down, cleaned and checked at the end. Children and "
            "pregnant women stay away.",
            "40 CFR 745 subpart E",
        ),
        Caution(
            "asbestos",
            "Test for asbestos before touching",
            "Flooring, adhesive, plaster or textured ceiling put in no later than 1980, or of unknown "
            "age, may hold asbestos. A sample is tested before anything is touched. Old floor covering "
            "is never sanded. If asbestos is found, work stops until a licensed abatement firm has "
            "dealt with it.",
            "29 CFR 1910.1001 and 1926.1101",
        ),
        Caution(
            "electric",
            "Electrical work",
            "Wiring is done by a licensed electrician, with a permit where one is required. Circuits "
            "are switched off, locked and tested before a wall is opened.",
            "common practice",
        ),
        Caution(
            "plumbing",
            "Plumbing work",
            "Pipes and drains are changed by a licensed plumber, with a permit where one is required. "
            "Water is shut off while that is done, and the new pipes are tested before the wall is "
            "closed.",
            "common practice",
        ),
        Caution(
            "gas",
            "Gas",
            "Gas pipes and appliances are touched only by someone licensed for gas, with a permit where "
            "one is required. Anyone who smells gas leaves the house and calls the gas supplier from "
            "outside.",
            "common practice",
        ),
        Caution(
            "structure",
            "Joists, studs and beams",
            "Nothing that carries load is cut, notched or removed before its support has been decided "
            "by someone qualified. Hidden damage is shown to the owner before the work goes on.",
            "common practice",
        ),
        Caution(
            "lifting",
            "Heavy lifting",
            "Tubs, boards, glass and stone are heavy. Two people lift, the way is cleared first, and "
            "the floor and stairs are kept dry and free.",
            "common practice",
        ),
        Caution(
            "chemical",
            "Membranes, epoxy and solvents",
            "Liquid membranes, epoxy and some adhesives can cause lasting allergy on skin or in the "
            "lungs. Gloves and eye protection are worn, the room is aired, and it stays closed to "
            "others until cured.",
            "common practice; read the safety data sheet of the product",
        ),
        Caution(
            "mould",
            "Mould behind the surface",
            "Wet walls and floors may hide mould. Where it is found, the room is closed off and the air "
            "filtered, the source of the water is mended first, and the finding is shown to the owner.",
            "common practice",
        ),
    )
}


def lead_presumed(year_built: int | None) -> bool:
    """Whether old paint counts as lead paint: built before 1978, or the year is not known."""
    return year_built is None or year_built < LEAD_BEFORE


def lead_rule_applies(
    year_built: int | None, painted_sq_ft: Decimal, *, replaces_window: bool = False
) -> bool:
    """Whether the lead rule governs work on painted surfaces inside one room (40 CFR 745.83).

    painted_sq_ft: all painted surface disturbed in the room within 30 days (`painted_sq_ft_as_one_job`); of a
    component that is removed, its entire surface. Up to 6 sq ft is minor repair; replacing a window never is.
    """
    return lead_presumed(year_built) and (replaces_window or painted_sq_ft > LEAD_MINOR_REPAIR_SQ_FT)


def painted_sq_ft_as_one_job(works: Iterable[tuple[date, Decimal]]) -> Decimal:
    """The most painted surface, in sq ft, that works in one room disturb within any 30 days: one job."""
    known = list(works)
    starts = [
        sum((area for day, area in known if timedelta(0) <= day - start <= LEAD_ONE_JOB), Decimal(0))
        for start, _ in known
    ]
    return max(starts, default=Decimal(0))


def asbestos_presumed(installed: int | None) -> bool:
    """Whether old flooring or surfacing is presumed to hold asbestos: installed by 1980, or year unknown."""
    return installed is None or installed <= ASBESTOS_UNTIL


_DECIDED_BY_YEAR: dict[str, Callable[[int | None], bool]] = {
    "lead": lead_presumed,
    "asbestos": asbestos_presumed,
}


def cautions_for(codes: Iterable[str], *, year_built: int | None) -> tuple[Caution, ...]:
    """The cautions that the codes call for in a house of this year, each once, in the order of the table.

    An unknown year counts as old. Papers add GENERAL_CAUTION at the end, whatever the codes. Raise
    UnknownCaution for a code that is not in CAUTIONS.
    """
    wanted = set(codes)
    strange = sorted(wanted - CAUTIONS.keys())
    if strange:
        known = ", ".join(CAUTIONS)
        raise UnknownCaution(*(Problem("cautions", f"“{code}” is not one of {known}.") for code in strange))
    return tuple(
        caution
        for code, caution in CAUTIONS.items()
        if code in wanted and (code not in _DECIDED_BY_YEAR or _DECIDED_BY_YEAR[code](year_built))
    )
