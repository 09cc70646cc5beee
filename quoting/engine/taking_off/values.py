"""What a takeoff is given beside the rooms, and what it gives. Lengths are inches as floats."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from labour.engine.cautions import Caution
from labour.engine.cut_time import CutHours
from labour.engine.hours import TaskHours
from labour.engine.refusal import Refusal
from labour.engine.scope import RoomFigures
from labour.engine.tasks import Task
from labour.engine.usual_cuts import Cutting
from labour.engine.why import Why
from quoting.engine.layout.advice import Advice
from quoting.engine.layout.movement import MovementJoint
from quoting.engine.layout.search import Alternative, Wish
from quoting.engine.layout.values import Count, Layout, Setting, Spot, Surface, SurfaceKind
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.materials.values import Purchase
from quoting.engine.measure.lengths import System
from quoting.engine.measure.room import Room

type Place = tuple[str, str]
"""Name of a room and key of a surface in it."""


class CannotTakeOff(Refusal):
    """A surface can not be laid or counted as asked. The problem's field is "room, surface"."""


@dataclass(frozen=True, slots=True)
class TakeoffBooks:
    """Tasks by code (for area rates and cure times), materials and rules (for packs and products)."""

    tasks: Mapping[str, Task]
    catalogue: Catalogue


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is asked for instead of the usual.

    wish: what a start is chosen by. compare: surfaces are laid by the other wishes too. attic: share of the
    needed tiles bought on top for repairs. settings, starts: of single surfaces; a start that is given is
    locked. Both go before what the room itself has chosen; a wish does not.
    """

    wish: Wish = Wish.TRADE
    compare: bool = False
    attic: float = 0.0
    settings: Mapping[Place, Setting] = field(default_factory=dict)
    starts: Mapping[Place, Spot] = field(default_factory=dict)


CLOSE_ENOUGH = Decimal("0.02")
"""Nearer than this share, a line's quantity is that of the layout: measuring rounds, joints are left free."""

QUANTITIES = {
    SurfaceKind.FLOOR: "tiled_floor_area",
    SurfaceKind.WALL: "tiled_wall_area",
    SurfaceKind.SHOWER_FLOOR: "shower_floor_area",
    SurfaceKind.NICHE: "niche_count",
    SurfaceKind.CURB: "curb_length",
    SurfaceKind.BENCH: "bench_area",
}
"""What of a room the task that tiles such a surface is counted in."""

_OWN_TASKS = {
    SurfaceKind.NICHE: "tile-niche-faces",
    SurfaceKind.CURB: "tile-curb",
    SurfaceKind.BENCH: "tile-bench",
}


@dataclass(frozen=True, slots=True)
class LaidSurface:
    """A surface of a room with its layout.

    alternatives: other ways to lay it, where they were asked for.
    tile: class of the tile ("large"). tile_code: of the tile in the catalogue; task_code: of setting it on
    a whole floor or wall.
    """

    room: str
    tile: str
    tile_code: str
    task_code: str
    layout: Layout
    count: Count
    advice: tuple[Advice, ...]
    joints: tuple[MovementJoint, ...]
    alternatives: tuple[Alternative, ...] = ()

    @property
    def surface(self) -> Surface:
        """What is tiled."""
        return self.layout.surface

    @property
    def work_code(self) -> str:
        """Code of the task that sets tile on it: niches, curbs and benches have tasks of their own."""
        return _OWN_TASKS.get(self.surface.kind, self.task_code)


@dataclass(frozen=True, slots=True)
class RoomTaken:
    """A measured room and its laid surfaces. system: in which its lengths were written."""

    room: Room
    figures: RoomFigures
    surfaces: tuple[LaidSurface, ...]
    system: System = "us"


@dataclass(frozen=True, slots=True)
class Counted:
    """What a task takes of a material in a room, counted by its layouts and not rounded to packs.

    amount: in the material's content unit. basis: the quantity of the task that it was counted on, in feet to
    its dimension; None: it is no more than what the catalogue's rule says.
    """

    room: str
    task: str
    material: str
    amount: Decimal
    why: Why
    basis: Decimal | None = None


@dataclass(frozen=True, slots=True)
class TileTaken:
    """One tile of the job, all its surfaces counted together.

    box: tiles in a box, 0: sold one by one. with_spares: tiles needed with attic stock, before whole boxes.
    """

    code: str
    name: str
    tile: str
    surfaces: tuple[LaidSurface, ...]
    count: Count
    box: int
    with_spares: int


@dataclass(frozen=True, slots=True)
class TileHours:
    """Hours of tiling one kind of surface in one room.

    by_area: by the book's rate with usual cutting. cuts: those of its cuts. cutting: the factor that they
    bring. with_cuts: by the rate and the factor. None: not known.
    """

    room: str
    kind: SurfaceKind
    task: Task | None
    by_area: TaskHours | None
    cuts: CutHours
    cutting: Cutting | None
    with_cuts: TaskHours | None


@dataclass(frozen=True, slots=True)
class Step:
    """A layer of the work in a room and how long it must cure. words: what to keep in it; "" for nothing."""

    room: str
    name: str
    cure_hours: Decimal
    words: str = ""


@dataclass(frozen=True, slots=True)
class Takeoff:
    """Everything that was counted. notes: what was evened out, and what a person should look at."""

    rooms: tuple[RoomTaken, ...]
    tiles: tuple[TileTaken, ...]
    purchases: tuple[Purchase, ...]
    hours: tuple[TileHours, ...]
    steps: tuple[Step, ...]
    cautions: tuple[Caution, ...]
    wanted: Wanted
    notes: tuple[str, ...] = ()
