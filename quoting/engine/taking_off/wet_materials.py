"""What lies behind and under tile: a room comes in; amounts of board, tape, membrane and band go out."""

from collections.abc import Iterator, Sequence
from decimal import Decimal

from labour.engine.vocabulary import Dimension
from labour.engine.why import Why
from quoting.engine.layout.regions import polygons, rings
from quoting.engine.layout.tiled_walls import tiled_walls
from quoting.engine.layout.values import Surface, SurfaceKind
from quoting.engine.materials.bands import band_length
from quoting.engine.materials.beds import board_bed
from quoting.engine.materials.boards import SheetPlan, sheet_layout
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.materials.coverage import exact
from quoting.engine.materials.films import Coated, Film, membrane
from quoting.engine.materials.screws import FLOOR_SPACING, Spacing
from quoting.engine.materials.values import RuleKind
from quoting.engine.measure.edges import corner_lengths, resting_length
from quoting.engine.measure.wet import wet_segments
from quoting.engine.measure.worked import to_feet
from quoting.engine.taking_off.rules import by_rule, find_rule, with_waste
from quoting.engine.taking_off.values import Counted, RoomTaken

SHEET = 60.0, 36.0
"""Of boards and panels that the catalogue sells, in."""

_PANEL_SPACING = Spacing(field=12, edge=12, source="starting guess: product sheets differ")
_STRIP_WIDTH = Decimal(6)
"""Of membrane brushed under a band of 5 in, in (starting guess)."""

_BACKERS = {
    "cement-board": ("cement-board-wall", Spacing()),
    "foam-panel": ("foam-panel-wall", _PANEL_SPACING),
}
_FACED = (SurfaceKind.NICHE, SurfaceKind.CURB, SurfaceKind.BENCH)


def wet_counted(taken: RoomTaken, catalogue: Catalogue) -> Iterator[Counted]:
    """Backer of the walls, membrane, then what lies under the floor's tile."""
    facts = taken.figures.facts
    if facts["wall_tile"] != "none":
        yield from _backer(taken, catalogue)
    if facts["wall_tile"] != "none" or facts["shower_floor_tile"] != "none":
        yield from _membrane(taken, catalogue)
        yield from _bands(taken, catalogue)
    floors = [laid.surface for laid in taken.surfaces if laid.surface.kind is SurfaceKind.FLOOR]
    if floors and facts["existing_floor"] != "concrete":
        yield from _underlayment(taken, floors, catalogue)
    elif floors:
        area = taken.figures.quantities["tiled_floor_area"]
        for material in ("uncoupling-mat", "thinset-backer"):
            yield from by_rule(catalogue, "uncoupling-mat", material, taken.figures, area)


def wet_surfaces(taken: RoomTaken) -> list[Surface]:
    """Wet wall without wainscot, niche faces, curbs and benches: all that gets backer."""
    found = []
    for wall in tiled_walls(taken.room):
        for number, part in enumerate(polygons(wall.wet)):
            outline, holes = rings(part)
            found.append(Surface(f"wet-{wall.name}-{number}", wall.name, SurfaceKind.WALL, outline, holes))
    return found + [laid.surface for laid in taken.surfaces if laid.surface.kind in _FACED]


def _backer(taken: RoomTaken, catalogue: Catalogue) -> Iterator[Counted]:
    """Boards or panels over all surfaces together, then what closes their seams."""
    task, spacing = _BACKERS[taken.figures.facts["backer"]]
    surfaces = wet_surfaces(taken)
    if not surfaces:
        return
    plan = sheet_layout(surfaces, *SHEET, spacing=spacing)
    seams, quantities = exact(plan.seams) / 12, taken.figures.quantities
    yield from _sheets(taken, plan, task, catalogue)
    if task == "foam-panel-wall":
        mouths = 2 * quantities["niche_perimeter"]
        basis = quantities["board_seam_length"] + mouths
        yield from by_rule(catalogue, "panel-sealant", "panel-sealant", taken.figures, seams + mouths, basis)
        return
    basis = quantities["board_seam_length"]
    yield from _tape(taken, seams, catalogue, basis)
    # Tape is bedded in mortar over corners as over seams.
    bedded = seams + sum(_planes(taken), Decimal(0))
    yield from by_rule(catalogue, "board-seams", "thinset-backer", taken.figures, bedded, basis)


def _sheets(taken: RoomTaken, plan: SheetPlan, task: str, catalogue: Catalogue) -> Iterator[Counted]:
    """Sheets and screws by the layout, where the catalogue sells the sheet that was laid."""
    sheet = find_rule(catalogue, task, taken.figures, kind=RuleKind.SHEET)
    screw = find_rule(catalogue, task, taken.figures, kind=RuleKind.FASTENERS)
    basis = exact(plan.covered) / 144
    if sheet and sheet.values["sheet_area"] == exact(SHEET[0] * SHEET[1]) / 144:
        number, screws = Decimal(plan.sheets), Decimal(plan.fasteners)
        yield Counted(taken.room.name, task, sheet.material_code, number, plan.why, basis)
        if screw:
            yield Counted(taken.room.name, task, screw.material_code, screws, plan.why, basis)


def _tape(taken: RoomTaken, seams: Decimal, catalogue: Catalogue, basis: Decimal) -> Iterator[Counted]:
    """Mesh tape over seams and inside corners; it butts."""
    tape = catalogue.materials.get("board-mesh-tape")
    if tape:
        band = band_length([seams, *_planes(taken)], tape.pack_size, lap=Decimal(0))
        yield Counted(taken.room.name, "board-seams", tape.code, band.length, band.why, basis)


def _bands(taken: RoomTaken, catalogue: Catalogue) -> Iterator[Counted]:
    task, basis = "membrane-banding", taken.figures.quantities["change_of_plane_length"]
    band = catalogue.materials.get(task)
    if band and (runs := _planes(taken)):
        plan = band_length(runs, band.pack_size)
        yield Counted(taken.room.name, task, band.code, plan.length, plan.why, basis)
        yield from by_rule(catalogue, task, "membrane-corner", taken.figures, sum(runs, Decimal(0)))


def _planes(taken: RoomTaken) -> Sequence[Decimal]:
    """Changes of plane in the wet zone, each by itself, ft: inside corners, then where tile rests."""
    segments = wet_segments(taken.room)
    runs = [*corner_lengths(taken.room, segments), resting_length(segments)]
    return [to_feet(run, Dimension.LENGTH) for run in runs if run]


def _membrane(taken: RoomTaken, catalogue: Catalogue) -> Iterator[Counted]:
    """The measured membrane area with its turn-ups, less what panels and ready-made pans keep dry."""
    rule = find_rule(catalogue, "membrane-two-coats", taken.figures, kind=RuleKind.FILM)
    quantities, facts = taken.figures.quantities, taken.figures.facts
    area = quantities["membrane_area"]
    if facts["backer"] != "cement-board" or facts["wall_tile"] == "none":
        area -= quantities["wet_wall_area"]
    if facts["shower_floor_tile"] == "none":
        area -= quantities["shower_floor_area"] + quantities["curb_length"] / 4
    if rule is None or area <= 0:
        return
    seams = sum(_planes(taken), Decimal(0))
    coated = Coated(area, seam_length=seams, seam_width=_STRIP_WIDTH, seam_coats=1)
    films = [Film(rule.values["wet_mils"])] * int(rule.values.get("coats", 1))
    plan = membrane(coated, films)
    why = Why(plan.why.formula, plan.why.worked, rule.source)
    yield with_waste(rule, taken.room.name, plan.gallons, why)


def _underlayment(taken: RoomTaken, floors: list[Surface], catalogue: Catalogue) -> Iterator[Counted]:
    """Thin board bedded and screwed on the subfloor."""
    plan = sheet_layout(floors, *SHEET, spacing=FLOOR_SPACING)
    yield from _sheets(taken, plan, "underlayment-board", catalogue)
    rule = find_rule(catalogue, "underlayment-board", taken.figures, kind=RuleKind.BED)
    if rule:
        area = exact(plan.covered) / 144
        bed = board_bed(area)
        yield with_waste(rule, taken.room.name, bed.pounds, bed.why, area)
