"""Where to start: a surface and how it is tiled come in; the layout that keeps most wishes goes out.

Starts are compared along each axis by arithmetic alone (`axes`, `judging`), pairs of them by a cheap count
(`tally`); only the best few are laid and their tiles counted.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from itertools import product

import numpy as np

from quoting.engine.layout.axes import Axis, axes_of
from quoting.engine.layout.cells import check_setting
from quoting.engine.layout.counting import count
from quoting.engine.layout.cutting import lay
from quoting.engine.layout.dropped import FIXED, dropped_slivers, dropped_small, dropped_wishes, in_inches
from quoting.engine.layout.field import field_of
from quoting.engine.layout.judging import Judged, judged_starts
from quoting.engine.layout.outline_counts import outline_counts
from quoting.engine.layout.sheets import is_mosaic
from quoting.engine.layout.slivers import slivers_of
from quoting.engine.layout.tally import Tallier
from quoting.engine.layout.values import Layout, Pattern, Setting, Spot, Surface

COURSED = (Pattern.STACKED, Pattern.OFFSET, Pattern.PLANK, Pattern.SHEET)
"""Patterns of courses of one tile, whose cuts follow from arithmetic along each axis."""

FINALISTS = 6
"""Starts that are laid out in full before one is taken."""

MOST_FINALISTS, PIECES_IN_ALL = 30, 300
"""Of small surfaces more are laid, about so many pieces in all, as one tile is a larger part there."""

ALONG_ONE_AXIS = 20
"""Starts of one axis that are paired with those of the other when the fewest tiles are wanted."""


NET = 6
"""Starts along each axis that are tried for patterns whose cuts do not follow from each axis by itself."""


class Wish(StrEnum):
    """What counts first.

    TRADE: no cut under half a tile, then the sight line and the full course, then like cuts at opposite ends,
    then no narrow pieces at openings, then fewest tiles, then fewest slivers along slanted edges, then fewest
    cuts. CENTRED: like cuts before the
    lines. FEWEST_TILES: tiles before everything.
    """

    TRADE = "trade"
    CENTRED = "centred"
    FEWEST_TILES = "fewest-tiles"


@dataclass(frozen=True, slots=True)
class Alternative:
    """One of several ways to lay a surface. words: what it takes, for a person who chooses."""

    name: str
    layout: Layout
    words: str


type _Pair = tuple[Judged, Judged]
type _Key = Callable[[Judged], tuple[float, ...]]

_KEYS: dict[Wish, _Key] = {
    Wish.TRADE: lambda judged: judged.by_trade,
    Wish.CENTRED: lambda judged: judged.by_middle,
    Wish.FEWEST_TILES: lambda judged: judged.by_trade,
}
_BECAUSE = {
    Wish.TRADE: "no start keeps it together with half a tile at the ends",
    Wish.CENTRED: "like cuts at opposite ends were wanted",
    Wish.FEWEST_TILES: "the fewest tiles were wanted",
}


def choose_start(
    surface: Surface, setting: Setting, wish: Wish = Wish.TRADE, fixed: Spot | None = None
) -> Layout:
    """The layout of the best start, in the order of the wish; `dropped` says which wishes it does not keep.

    fixed: a start that is locked; it is laid as it is. Tiles are counted with offcuts used again. Raise
    BadSetting for sizes that can not be laid.

    >>> wall = Surface("a", "Wall", SurfaceKind.WALL, ((0, 0), (30, 0), (30, 24), (0, 24)))
    >>> choose_start(wall, Setting(12, 12, joint=0)).start
    (-3.0, 0.0)
    """
    check_setting(setting)
    if fixed is not None or field_of(surface, setting.edge).box is None:
        return _said(lay(surface, setting, fixed or (0.0, 0.0)), FIXED)
    axes = axes_of(surface, setting)
    if setting.pattern not in COURSED:
        places = _places(surface, setting, axes, wish)
        return _said(_least([lay(surface, setting, start) for start in places], wish), "")
    pairs = _fewest(surface, setting, axes) if wish == Wish.FEWEST_TILES else _kept(axes, _KEYS[wish])
    chosen = _chosen(surface, setting, axes, pairs, wish)
    if wish == Wish.FEWEST_TILES:
        by_trade = _chosen(surface, setting, axes, _kept(axes, _KEYS[Wish.TRADE]), Wish.TRADE)
        chosen = min(chosen, by_trade, key=lambda layout: count([layout]).needed)
    return _said(chosen, _BECAUSE[wish])


def nudge(layout: Layout, dx: float, dy: float) -> Layout:
    """The layout with its start moved, inches to the right and up, and locked there."""
    start = layout.start[0] + dx, layout.start[1] + dy
    return choose_start(layout.surface, layout.setting, fixed=start)


def compare(surface: Surface, setting: Setting) -> tuple[Alternative, ...]:
    """The layout of the trade, the centred one and the one with the fewest tiles, each with its count."""
    named = {"By the trade": Wish.TRADE, "Centred": Wish.CENTRED, "Fewest tiles": Wish.FEWEST_TILES}
    return tuple(
        Alternative(name, layout, in_words(layout))
        for name, wish in named.items()
        for layout in (choose_start(surface, setting, wish),)
    )


def in_words(layout: Layout) -> str:
    """What a layout takes: "20 tiles: 4 whole pieces, 24 cut (8 of them from offcuts), cuts 31' long …"."""
    taken = count([layout])
    reused = taken.without_reuse - taken.needed
    known = [f"{reused} of them from offcuts"] * (reused > 0) + [f"{taken.parted} along joints"] * (
        taken.parted > 0
    )
    how = f" ({', '.join(known)})" if known else ""
    cuts = f", cuts {in_inches(taken.cut_length)} long together" if taken.cut_length else ""
    what = "sheet" if layout.setting.pattern is Pattern.SHEET else "tile"
    tiles = f"{taken.needed} {what}{'s' * (taken.needed != 1)}"
    return f"{tiles}: {taken.whole} whole pieces, {taken.cut} cut{how}{cuts}."


def _kept(axes: tuple[Axis, Axis], key: _Key) -> list[_Pair]:
    """Pairs of the starts that are best along each axis: no pair can be better in what the key holds."""

    def best(axis: Axis) -> list[Judged]:
        judged = judged_starts(axis)
        least = min(map(key, judged))
        ties = sorted((each for each in judged if key(each) == least), key=lambda each: -each.smallest)
        return ties[:FINALISTS]

    return list(product(best(axes[0]), best(axes[1])))


def _fewest(surface: Surface, setting: Setting, axes: tuple[Axis, Axis]) -> list[_Pair]:
    """The pairs that seem to take fewest tiles."""
    tried_x, tried_y = (sorted(judged_starts(axis), key=_KEYS[Wish.TRADE])[:ALONG_ONE_AXIS] for axis in axes)
    field = field_of(surface, setting.edge)
    if field.box is None or field.blocks is None:
        pairs = list(product(tried_x[:FINALISTS], tried_y[:FINALISTS]))
        starts = np.array([(axes[0].near(x.start), axes[1].near(y.start)) for x, y in pairs])
        taken = outline_counts(surface, setting, starts)
        order = np.argsort(taken.whole + taken.cut, kind="stable")[:FINALISTS]
        return [pairs[place] for place in order.tolist()]
    tallier = Tallier(field.box, field.blocks, axes, is_mosaic=is_mosaic(setting))
    scored: list[tuple[tuple[float, ...], _Pair]] = []
    for pair in product(tried_x, tried_y):
        tally = tallier.tally((pair[0].start, pair[1].start))
        scored.append(((tally.tiles, tally.pieces, *_faults(pair, Wish.TRADE), tally.cut), pair))
    scored.sort(key=lambda each: each[0])
    by_pieces = min(scored, key=lambda each: (each[0][1], each[0]))[1]
    number = min(MOST_FINALISTS, max(FINALISTS, PIECES_IN_ALL // int(scored[0][0][1])))
    return [by_pieces, *(pair for _, pair in scored[:number])]


def _chosen(
    surface: Surface, setting: Setting, axes: tuple[Axis, Axis], pairs: Sequence[_Pair], wish: Wish
) -> Layout:
    """The best of the pairs, laid out and counted; of many only those that seem to take fewest tiles."""
    field = field_of(surface, setting.edge)
    is_many = wish != Wish.FEWEST_TILES and len(pairs) > FINALISTS
    if is_many and field.box is not None and field.blocks is not None:
        tallier = Tallier(field.box, field.blocks, axes, is_mosaic=is_mosaic(setting))
        tallies = {pair: tallier.tally((pair[0].start, pair[1].start)) for pair in pairs}
        pairs = sorted(pairs, key=lambda pair: (tallies[pair].tiles, tallies[pair].pieces))[:FINALISTS]
    laid = []
    for pair in pairs:
        start = axes[0].near(pair[0].start), axes[1].near(pair[1].start)
        laid.append((pair, lay(surface, setting, start)))
    return min(laid, key=lambda each: _score(each[0], each[1], wish))[1]


def _score(pair: _Pair, layout: Layout, wish: Wish) -> tuple[float, ...]:
    """Less is better, the first figure before the second and so on."""
    taken = count([layout])
    slivers = 0 if is_mosaic(layout.setting) else sum(len(found.pieces) for found in slivers_of(layout))
    effort = (taken.needed, slivers, taken.cut, taken.cut_length // 0.001)
    smallest = -min(judged.smallest for judged in pair)
    if wish == Wish.FEWEST_TILES:
        return (*effort[:1], *_faults(pair, wish), *effort[1:], smallest)
    return (*_faults(pair, wish), *effort, smallest)


def _faults(pair: _Pair, wish: Wish) -> tuple[float, ...]:
    """The faults of both axes together."""
    key = _KEYS[wish]
    return tuple(sum(each) for each in zip(key(pair[0]), key(pair[1]), strict=True))


def _places(surface: Surface, setting: Setting, axes: tuple[Axis, Axis], wish: Wish) -> list[Spot]:
    """A tile's middle or corner in the middle of the surface, along each axis, and the lines wished for.

    For the fewest tiles also those of a net of starts that take the fewest pieces.
    """
    middles = []
    for axis in axes:
        middle = (axis.low + axis.high) / 2
        middles.append({middle - axis.tile / 2, middle + axis.joint / 2, *axis.goals})
    places: list[Spot] = sorted((x, y) for x, y in product(*middles))
    if wish != Wish.FEWEST_TILES:
        return places
    steps = [np.arange(NET) * axis.pitch / NET + axis.low - axis.pitch for axis in axes]
    net = np.array(list(product(*steps)))
    taken = outline_counts(surface, setting, net)
    order = np.argsort(taken.whole + taken.cut, kind="stable")[: FINALISTS - 2]
    return places + [(float(x), float(y)) for x, y in net[order]]


def _least(layouts: Sequence[Layout], wish: Wish) -> Layout:
    """The one with the fewest pieces under a quarter of a tile, then the fewest tiles and cuts."""

    def faults(layout: Layout) -> tuple[float, ...]:
        small = sum(piece.area < piece.width * piece.height / 4 for piece in layout.pieces)
        taken = count([layout])
        order = (taken.needed, small) if wish == Wish.FEWEST_TILES else (small, taken.needed)
        return *order, taken.cut, taken.cut_length // 0.001

    return min(layouts, key=faults)


def _said(layout: Layout, because: str) -> Layout:
    """The layout with the wishes that it drops."""
    if not layout.pieces:
        return layout
    words = dropped_slivers(layout, because)
    if layout.setting.pattern in COURSED:
        axes = axes_of(layout.surface, layout.setting)
        words = dropped_wishes(layout.surface, axes, layout.start, because) + words
    elif because == FIXED:
        words = dropped_small(layout) + words
    return replace(layout, dropped=words)
