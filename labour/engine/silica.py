"""How silica dust is held down, by tool, place and hours: 29 CFR 1926.1153, table 1, rows (i) to (iii)."""

from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

from labour.engine.refusal import Problem, Refusal

SHORT_SHIFT_HOURS = Decimal(4)


class NoSilicaRow(Refusal):
    """The table has no row for this tool at this place, so exposure has to be measured instead."""


class Tool(StrEnum):
    """Tools that cut tile, mortar or board."""

    STATIONARY_SAW = "stationary masonry saw"
    HAND_SAW = "hand-held power saw"
    FIBRE_CEMENT_SAW = "fibre-cement saw, blade 8 in or less"


class Place(StrEnum):
    """Where the tool is used; an enclosed yard or garage counts as indoors."""

    INDOORS = "indoors"
    OUTDOORS = "outdoors"


@dataclass(frozen=True, slots=True)
class SilicaControl:
    """What is done at the tool, and the respirator's assigned protection factor (0: none is asked for)."""

    control: str
    protection_factor: int


_WATER = "water fed to the blade without a break"
_COLLECTION = "dust collection at the blade, filter 99 % or better"

_TABLE: dict[tuple[Tool, Place], tuple[str, int, int]] = {
    (Tool.STATIONARY_SAW, Place.INDOORS): (_WATER, 0, 0),
    (Tool.STATIONARY_SAW, Place.OUTDOORS): (_WATER, 0, 0),
    (Tool.HAND_SAW, Place.OUTDOORS): (_WATER, 0, 10),
    (Tool.HAND_SAW, Place.INDOORS): (_WATER, 10, 10),
    (Tool.FIBRE_CEMENT_SAW, Place.OUTDOORS): (_COLLECTION, 0, 0),
}


def silica_control(tool: Tool, place: Place, hours: Decimal) -> SilicaControl:
    """Control and respirator for `hours` of cutting in a shift; 4 hours is still short, 4.01 is not.

    Raise NoSilicaRow where the table has no row: fibre-cement saws indoors.
    """
    row = _TABLE.get((tool, place))
    if row is None:
        reason = f"Use the {tool} outdoors only; the dust rule has no row for it {place}."
        raise NoSilicaRow(Problem("place", reason))
    control, short, long = row
    return SilicaControl(control, short if hours <= SHORT_SHIFT_HOURS else long)
