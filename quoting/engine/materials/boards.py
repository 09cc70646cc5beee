"""Board and panel by sheet layout: surfaces and a sheet come in; boards, sheets to buy, seams, screws go out.

Sheets are laid like large tiles without joints, every other row moved along, openings cut out. The gap of
1/8 in that some boards are given is not taken off: it makes no board fewer. Lengths are inches.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from shapely import Polygon

from labour.engine.refusal import Problem, Refusal
from labour.engine.why import Why
from quoting.engine.layout.counting import area_of
from quoting.engine.layout.cutting import lay
from quoting.engine.layout.offcuts import tiles_needed
from quoting.engine.layout.values import CLOSE, Layout, Pattern, Setting, Surface
from quoting.engine.layout.wanted import Tile, Want
from quoting.engine.materials.screws import Spacing, screws_of


class CannotBoard(Refusal):
    """A sheet, a stagger or a spacing that makes no sense."""


@dataclass(frozen=True, slots=True)
class SheetPlan:
    """How surfaces are covered with sheets.

    layouts: one a surface, each piece a board. sheets: to buy, offcuts used again; without_reuse: one a
    piece. covered: sq in. seams: length between boards, in. fasteners: around and across every board.
    waste: share of the sheets' area that is on no surface.
    """

    layouts: tuple[Layout, ...]
    sheets: int
    without_reuse: int
    covered: float
    seams: float
    fasteners: int
    waste: float
    why: Why


def sheet_layout(
    surfaces: Surface | Sequence[Surface],
    sheet_w: float,
    sheet_h: float,
    turned: bool | None = None,
    stagger: float = 0.5,
    spacing: Spacing = Spacing(),  # noqa: B008  (frozen)
    kerf: float = 0.0,
) -> SheetPlan:
    """Sheets over all surfaces together, the first one full in the lower left corner of each.

    turned: the long side stands upright; None: whichever way takes fewer sheets, then less seam, the same
    for all surfaces or for each its own. stagger: share of the long side by which every other row is moved
    (0: seams in line); a surface that one sheet spans is not staggered. kerf: lost at a cut; a scored board
    loses nothing. Raise `CannotBoard`.
    """
    given = (surfaces,) if isinstance(surfaces, Surface) else tuple(surfaces)
    _check(sheet_w, sheet_h, stagger, kerf, spacing)
    sheet = Setting(sheet_w, sheet_h, Pattern.OFFSET, joint=0.0, offset=stagger, kerf=kerf)
    ways = (False, True) if turned is None else (turned,)
    laid = [tuple(_laid(surface, replace(sheet, turned=way)) for surface in given) for way in ways]
    if turned is None:
        laid.append(tuple(min(pair, key=_sheets_and_seams) for pair in zip(*laid, strict=True)))
    best = min(laid, key=lambda layouts: (_sheets(layouts), math.fsum(map(seam_length, layouts))))
    return _plan(best, sheet, spacing)


def seam_length(layout: Layout) -> float:
    """Inches at which boards meet: half of what their outlines have more than the surface's outline.

    Source: geometry; every seam is on the outline of two boards.
    """
    around = math.fsum(Polygon(piece.ring, piece.holes).length for piece in layout.pieces)
    return max((around - float(_region(layout.surface).length)) / 2, 0.0)


def _laid(surface: Surface, setting: Setting) -> Layout:
    left, low, right, high = Polygon(surface.outline).bounds
    along = high - low if setting.turned else right - left
    if along <= max(setting.width, setting.height) + CLOSE:
        setting = replace(setting, pattern=Pattern.STACKED)
    return lay(surface, setting, (left, low))


def _sheets_and_seams(layout: Layout) -> tuple[int, float]:
    return _sheets((layout,)), seam_length(layout)


def _sheets(layouts: Sequence[Layout]) -> int:
    """Sheets that give all boards, offcuts used again, each board in the frame of the lying sheet."""
    wants = [
        Want(*(reversed(piece.needs) if layout.setting.turned else piece.needs))
        for layout in layouts
        for piece in layout.pieces
    ]
    if not wants:
        return 0
    setting = layouts[0].setting
    long, short = max(setting.width, setting.height), min(setting.width, setting.height)
    return tiles_needed(wants, Tile(long, short, setting.kerf))


def _plan(layouts: tuple[Layout, ...], sheet: Setting, spacing: Spacing) -> SheetPlan:
    boards = [(layout, piece) for layout in layouts for piece in layout.pieces]
    sheets = _sheets(layouts)
    covered = math.fsum(area_of(layout.surface) for layout in layouts)
    seams = math.fsum(map(seam_length, layouts))
    fasteners = sum(screws_of(piece, layout.start, spacing) for layout, piece in boards)
    bought = sheets * sheet.width * sheet.height
    return SheetPlan(
        layouts=layouts,
        sheets=sheets,
        without_reuse=len(boards),
        covered=covered,
        seams=seams,
        fasteners=fasteners,
        waste=1 - covered / bought if bought else 0.0,
        why=Why(
            "sheets laid over the surfaces, openings cut out, offcuts used where they fit",
            f"{covered / 144:.2f} sq ft, boards: {len(boards)}, sheets: {sheets} of {sheet.width:g} × "
            f"{sheet.height:g} in; seams: {seams / 12:.2f} ft; screws: {fasteners}, {spacing.words()}",
            spacing.source,
        ),
    )


def _region(surface: Surface) -> Polygon:
    region = Polygon(surface.outline)
    for hole in surface.holes:
        region = region.difference(Polygon(hole))
    return region


def _check(width: float, height: float, stagger: float, kerf: float, spacing: Spacing) -> None:
    figures = {"sheet_w": width, "sheet_h": height, **spacing.figures()}
    problems = [
        Problem(name, f"must be a length above zero, not {value:g}")
        for name, value in figures.items()
        if not (math.isfinite(value) and value > 0)
    ]
    if not 0 <= stagger < 1:
        problems.append(Problem("stagger", f"is a share of the sheet from 0 to below 1, not {stagger:g}"))
    if not 0 <= kerf <= 1:
        problems.append(Problem("kerf", f"is from 0 to 1 in, not {kerf:g}"))
    if problems:
        raise CannotBoard(*problems)
