"""How a surface is tiled where it was chosen: the usual setting and a choice come in; a setting goes out.

Lengths are inches. A start is kept from the surface's lower left, so that it holds when the room grows.
"""

from collections.abc import Iterable, Iterator
from decimal import Decimal
from fractions import Fraction
from math import ceil

from labour.engine.figures import plain
from labour.engine.refusal import Problem, Refusal
from quoting.engine.layout.advice import LARGE_EDGE
from quoting.engine.layout.axes import Axis, axes_of, starts_worth_trying
from quoting.engine.layout.field import field_of
from quoting.engine.layout.period import periods_of, start_within
from quoting.engine.layout.search import COURSED, Wish
from quoting.engine.layout.values import Pattern, Setting, Spot, Surface
from quoting.engine.measure.lengths import Length, System
from quoting.engine.measure.room import Room, SurfaceChoice

MOVED = (Pattern.OFFSET, Pattern.PLANK)
_HALF, _THIRD = 1 / 2, 1 / 3
_FINE = 64
_MM = 25.4
_DUST = 1e-4
_KEPT = 2e-4


class BadChoice(Refusal):
    """A surface can not be tiled as chosen. The problem's field is one of the choice ("small_tile")."""


def choice_of(room: Room, key: str) -> SurfaceChoice | None:
    """What was chosen for a surface of the room."""
    return next((choice for choice in room.choices if choice.surface == key), None)


def setting_chosen(usual: Setting | None, choice: SurfaceChoice) -> Setting:
    """The choice over the usual. What a pattern needs and is not given is what is common for the tile.

    Raise BadChoice, naming the field, where nothing is common: the size of a sheet and of its small tiles.
    usual: None where such a surface is not tiled; then the choice says a size.
    """
    pattern = Pattern(choice.pattern) if choice.pattern else usual.pattern if usual else Pattern.STACKED
    width, height = _size(usual, choice, pattern)
    base = usual or Setting(width, height)
    is_moved = pattern in MOVED
    return Setting(
        width=width,
        height=height,
        pattern=pattern,
        joint=_inches(choice.joint) if choice.joint is not None else base.joint,
        edge=base.edge,
        offset=_offset(base, choice, pattern, max(width, height)) if is_moved else base.offset,
        turned=base.turned if choice.turned is None else choice.turned,
        small=_small(base, choice, pattern, min(width, height)),
        directed=base.directed or pattern is Pattern.PLANK,
        kerf=base.kerf,
    )


def start_of(surface: Surface, setting: Setting, choice: SurfaceChoice | None) -> Spot | None:
    """The start that a choice locks, in the surface's own coordinates; None: the start is searched.

    Lengths are kept to 1/8128 in: a start so near to one that the search tries is that one, so that locking a
    layout does not turn a cut of just half a tile into one of a hair more.
    """
    if choice is None or choice.start is None:
        return None
    (low_x, low_y), (x, y) = lower_left(surface), choice.start
    spot = low_x + _inches(x), low_y + _inches(y)
    if setting.pattern not in COURSED or field_of(surface, setting.edge).box is None:
        return spot
    axes, step = axes_of(surface, setting), periods_of(setting)[1]
    along, up = (1, 0) if setting.turned else (0, 1)
    courses = ceil((spot[up] - axes[up].low) / step[up] - _DUST)
    missed = [0.0, 0.0]
    missed[along] = _missed(axes[along], spot[along] - courses * step[along])
    missed[up] = _missed(axes[up], spot[up])
    return spot[0] + missed[0], spot[1] + missed[1]


def _missed(axis: Axis, at: float) -> float:
    """From a start to the one that is meant by it, which the search would try; 0 where none is so near."""
    apart = (starts_worth_trying(axis) - at + axis.pitch / 2) % axis.pitch - axis.pitch / 2
    nearest = float(apart[abs(apart).argmin()])
    return nearest if abs(nearest) <= _KEPT else 0.0


def locked_at(surface: Surface, setting: Setting, start: Spot, system: System = "us") -> dict[str, str]:
    """start_x and start_y of a choice that locks a start of the surface's coordinates, as a person types."""
    low = lower_left(surface)
    within = start_within(setting, start, low)
    names = ("start_x", "start_y")
    return {
        name: as_typed(max(at - corner, 0.0), system)
        for name, at, corner in zip(names, within, low, strict=True)
    }


def wish_of(choice: SurfaceChoice | None, usual: Wish) -> Wish:
    """By what the start of a surface is chosen."""
    return Wish(choice.wish) if choice and choice.wish else usual


def lower_left(surface: Surface) -> Spot:
    """Lower left corner of the box around a surface."""
    xs, ys = zip(*surface.outline, strict=True)
    return min(xs), min(ys)


def unused_choices(room: Room, keys: Iterable[str]) -> Iterator[SurfaceChoice]:
    """Choices for surfaces that the room does not have, or no longer."""
    found = set(keys)
    return (choice for choice in room.choices if choice.surface not in found)


def as_typed(inches: float, system: System = "us") -> str:
    """A place as a person would type it: exact to 1/64 in where it is one, else to 1/10,000 in or 1/100 mm.

    >>> as_typed(11.4375), as_typed(4.1), as_typed(25.4, "metric")
    ('11 7/16"', '4.1 in', '645.16 mm')
    """
    if system == "metric":
        return f"{plain(Decimal(f'{inches * _MM:.2f}'))} mm"
    parts = int(inches * _FINE + 0.5)
    if abs(parts / _FINE - inches) > _DUST:
        return f"{plain(Decimal(f'{inches:.4f}'))} in"
    whole, part = divmod(parts, _FINE)
    return " ".join([str(whole)] * (whole > 0 or not part) + [str(Fraction(part, _FINE))] * (part > 0)) + '"'


def _size(usual: Setting | None, choice: SurfaceChoice, pattern: Pattern) -> tuple[float, float]:
    """Width and height of a tile or a sheet; one that is not given is the usual one."""
    if pattern is Pattern.TWO_SIZE:
        return _square(usual, choice)
    is_sheet = usual is not None and usual.pattern is Pattern.SHEET
    known = usual if (pattern is Pattern.SHEET) == is_sheet else None
    width = _inches(choice.width) if choice.width else known.width if known else 0.0
    height = _inches(choice.height) if choice.height else known.height if known else 0.0
    what = "a sheet" if pattern is Pattern.SHEET else "a tile of this pattern"
    sizes = (("tile_width", "width", width), ("tile_height", "height", height))
    problems = [Problem(name, f"Write the {way} of {what}.") for name, way, size in sizes if not size]
    if pattern is Pattern.SHEET and not (known or choice.small):
        problems.append(Problem("small_tile", "Write the side of the small tiles on the sheet."))
    if problems:
        raise BadChoice(*problems)
    return width, height


def _square(usual: Setting | None, choice: SurfaceChoice) -> tuple[float, float]:
    """The large tile of two sizes: one side that is given is both."""
    given = [_inches(side) for side in (choice.width, choice.height) if side]
    if not given and usual is not None:
        given = [usual.width, usual.height]
    if not given or abs(given[0] - given[-1]) > _DUST:
        field = "tile_height" if choice.height else "tile_width"
        raise BadChoice(
            Problem(field, "The large tile of this pattern is square: write the same side twice.")
        )
    return given[0], given[0]


def _offset(base: Setting, choice: SurfaceChoice, pattern: Pattern, long: float) -> float:
    """Share of the tile; not given: the usual one, or a third of a long tile and half of any other."""
    if choice.offset is not None:
        return choice.offset / 100
    if pattern is base.pattern and not (choice.width or choice.height):
        return base.offset
    return _THIRD if pattern is Pattern.PLANK or long >= LARGE_EDGE else _HALF


def _small(base: Setting, choice: SurfaceChoice, pattern: Pattern, side: float) -> float:
    """Side of the small tile: of a sheet as usual, of two sizes half the large one (common practice)."""
    if pattern not in (Pattern.SHEET, Pattern.TWO_SIZE):
        return 0.0
    usual = base.small if pattern is Pattern.SHEET else side / 2
    small = _inches(choice.small) if choice.small else usual
    if small > side:
        raise BadChoice(
            Problem("small_tile", "The small tile can not be larger than the large one or the sheet.")
        )
    return small


def _inches(length: Length) -> float:
    return float(length.inches)
