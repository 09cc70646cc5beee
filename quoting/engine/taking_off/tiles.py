"""Tiles of the whole job: laid surfaces come in; each tile counted over all of its own goes out."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from decimal import Decimal

from labour.engine.expressions import parse_condition
from labour.engine.figures import plain, to_hundredths
from labour.engine.refusal import Problem, Refusal
from labour.engine.why import Why
from quoting.engine.layout.counting import count, to_buy
from quoting.engine.layout.values import Setting
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.materials.coverage import exact
from quoting.engine.materials.values import Material, RuleKind
from quoting.engine.taking_off.values import (
    QUANTITIES,
    CannotTakeOff,
    Counted,
    LaidSurface,
    RoomTaken,
    TileTaken,
    Wanted,
)

_SQ_FT = "sq ft"
_PIECES = ("each", "tile", "sheet")
_TILE_UNITS = (_SQ_FT, "tile", "sheet")
_TILE_KINDS = (RuleKind.EACH, RuleKind.LENGTH)
_FINE = Decimal("1e-12")


def tiles_of(rooms: Iterable[RoomTaken], catalogue: Catalogue, wanted: Wanted) -> tuple[TileTaken, ...]:
    """One answer a tile, in order of first appearance: what is left of one surface serves another."""
    by_code: dict[str, list[LaidSurface]] = {}
    for taken in rooms:
        for laid in taken.surfaces:
            by_code.setdefault(tile_code(taken, laid, catalogue), []).append(laid)
    return tuple(_tile(code, tuple(laid), catalogue.materials, wanted) for code, laid in by_code.items())


def tile_code(taken: RoomTaken, laid: LaidSurface, catalogue: Catalogue) -> str:
    """The tile that the firm's rules give the task: the first material that is counted by area or piece."""
    for code in (laid.work_code, laid.task_code):
        for rule in catalogue.rules.get(code, ()):
            material = catalogue.materials.get(rule.material_code)
            is_tile = material and material.content_unit in _TILE_UNITS and rule.kind in _TILE_KINDS
            if is_tile and parse_condition(rule.when).holds(taken.figures):
                return rule.material_code
    return laid.tile_code


def tiles_in_box(material: Material | None, setting: Setting) -> int:
    """Tiles in a pack; of one sold by area: pack ÷ area of a tile, to the nearest whole one. 0: not known."""
    if material and material.content_unit in _PIECES:
        return int(material.pack_size)
    if material is None or material.content_unit != _SQ_FT:
        return 0
    area = exact(setting.width) * exact(setting.height) / 144
    return max(int((material.pack_size / area).to_integral_value()), 1)


def tile_counted(
    rooms: Iterable[RoomTaken], tiles: Iterable[TileTaken], catalogue: Catalogue
) -> Iterator[Counted]:
    """Each tile as a share of its box, parted over the rooms and tasks by what each needs alone.

    Boxes are rounded up when the job is bought for, not here.
    """
    figures = {taken.room.name: taken.figures for taken in rooms}
    for tile in tiles:
        material = catalogue.materials.get(tile.code)
        if material is None or not tile.box:
            continue
        parts: dict[tuple[str, str], list[LaidSurface]] = {}
        for laid in tile.surfaces:
            parts.setdefault((laid.room, laid.work_code), []).append(laid)
        amount = tile.with_spares * material.pack_size / tile.box
        weights = [sum(laid.count.needed for laid in part) for part in parts.values()]
        for (room, task), share in zip(parts, shared(amount, weights), strict=True):
            laid = parts[room, task][0]
            basis = figures[room].quantities[QUANTITIES[laid.surface.kind]]
            yield Counted(room, task, tile.code, share, _why(tile, material, amount, share), basis)


def shared(total: Decimal, weights: Sequence[float]) -> list[Decimal]:
    """The total in parts like the weights, together exactly the total."""
    exactly = [exact(weight) for weight in weights]
    whole = sum(exactly)
    if not whole:
        return [*(Decimal(0) for _ in weights[:-1]), total]
    # Fine enough that a part of so many tiles is just so many: a crumb more would buy one more box.
    parts = [(total * weight / whole).quantize(_FINE) for weight in exactly[:-1]]
    return [*parts, total - sum(parts, Decimal(0))]


def _why(tile: TileTaken, material: Material, amount: Decimal, share: Decimal) -> Why:
    count, unit = tile.count, material.content_unit
    size = f"{plain(material.pack_size)} {unit} in a box of {tile.box}"
    worked = (
        f"{count.whole} whole + {count.cut} cut pieces from {count.needed} tiles, {tile.with_spares} with "
        f"spares; × {size} = {plain(to_hundredths(amount))} {unit} on the job, "
        f"{plain(to_hundredths(share))} here"
    )
    formula = "tiles of all layouts, offcuts used again, + spares, parted by what each needs alone"
    return Why(formula, worked, "layouts")


def _tile(
    code: str, laid: tuple[LaidSurface, ...], materials: Mapping[str, Material], wanted: Wanted
) -> TileTaken:
    material = materials.get(code)
    box = tiles_in_box(material, laid[0].layout.setting)
    try:
        taken = count([one.layout for one in laid], box=box, attic=wanted.attic)
    except Refusal as refused:
        raise CannotTakeOff(*(Problem(code, problem.message) for problem in refused.problems)) from refused
    _, with_spares, _ = to_buy(taken.needed, attic=wanted.attic)
    return TileTaken(code, material.name if material else code, laid[0].tile, laid, taken, box, with_spares)


def sq_ft(square_inches: float) -> Decimal:
    """Square feet of a drawing's square inches."""
    return exact(square_inches) / 144
