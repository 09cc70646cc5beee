"""What may be hidden behind a surface: kinds of concealed conditions, with odds and costs to start from."""

from dataclasses import dataclass
from enum import StrEnum

from labour.engine.three_point import ThreePoint
from labour.engine.vocabulary import Phase


class Opened(StrEnum):
    """What a job must open or touch for a concealed condition to come to light."""

    FLOOR = "floor"
    WALL = "wall"
    PIPES = "pipes"
    WIRING = "wiring"


@dataclass(frozen=True, slots=True)
class ConcealedKind:
    """A concealed condition. a, b: Beta prior of finding it when its surface is opened.

    old_factor: on the odds in an old house. cost: to the firm, if found. Odds and costs are starting guesses.
    """

    code: str
    name: str
    found_in: str
    opened: Opened
    a: float
    b: float
    old_factor: float
    cost: ThreePoint


KINDS: tuple[ConcealedKind, ...] = (
    ConcealedKind(
        "subfloor-rot", "Rot in the subfloor", "opened floor", Opened.FLOOR,
        2, 6, 1.5, ThreePoint(250, 650, 2200),
    ),
    ConcealedKind(
        "weak-joists", "Undersized or cut joists", "opened floor", Opened.FLOOR,
        1, 9, 1.8, ThreePoint(300, 800, 2600),
    ),
    ConcealedKind(
        "wall-framing-rot", "Rot in the wall framing", "opened wall", Opened.WALL,
        1.5, 7.5, 1.4, ThreePoint(250, 700, 2400),
    ),
    ConcealedKind(
        "mouldy-board", "Mould on board or framing", "opened wall", Opened.WALL,
        1.5, 7.5, 1.3, ThreePoint(200, 500, 1800),
    ),
    ConcealedKind(
        "failed-pipe", "Supply or drain pipe that has failed", "job on the pipes", Opened.PIPES,
        1, 7, 1.8, ThreePoint(200, 600, 1900),
    ),
    ConcealedKind(
        "old-wiring", "Wiring that can not stay as it is", "job on the wiring", Opened.WIRING,
        1, 7, 2.0, ThreePoint(200, 550, 1800),
    ),
)  # fmt: skip
KIND_BY_CODE = {kind.code: kind for kind in KINDS}


def opened_by(code: str, phase: Phase) -> frozenset[Opened]:
    """What a task opens or touches, by its code and phase."""
    if phase is Phase.DEMOLITION:
        if any(word in code for word in ("floor", "toilet", "tub", "pan")):
            return frozenset({Opened.FLOOR})
        if any(word in code for word in ("wall", "plaster", "board")):
            return frozenset({Opened.WALL})
        return frozenset()
    if phase is Phase.ROUGH_IN:
        return frozenset({Opened.WIRING if "wiring" in code else Opened.PIPES})
    return frozenset()
