"""Tiles of the whole job: laid surfaces come in; each tile counted over all of its own goes out."""

from collections.abc import Iterable, Mapping
from decimal import Decimal

from labour.engine.figures import plain
from labour.engine.refusal import Problem, Refusal
from labour.engine.why import Why
from quoting.engine.layout.counting import count
from quoting.engine.layout.values import Setting
from quoting.engine.materials.coverage import exact
from quoting.engine.materials.values import Material, Use
from quoting.engine.taking_off.values import CannotTakeOff, LaidSurface, RoomTaken, TileTaken, Wanted

_SQ_FT = "sq ft"
_PIECES = ("each", "tile", "sheet")


def tiles_of(
    rooms: Iterable[RoomTaken], materials: Mapping[str, Material], wanted: Wanted
) -> tuple[TileTaken, ...]:
    """One answer a tile, in order of first appearance: what is left of one surface serves another."""
    by_code: dict[str, list[LaidSurface]] = {}
    for taken in rooms:
        for laid in taken.surfaces:
            by_code.setdefault(laid.tile_code, []).append(laid)
    return tuple(_tile(code, tuple(laid), materials, wanted) for code, laid in by_code.items())


def tiles_in_box(material: Material | None, setting: Setting) -> int:
    """Tiles in a pack; of one sold by area: pack ÷ area of a tile, to the nearest whole one. 0: not known."""
    if material and material.content_unit in _PIECES:
        return int(material.pack_size)
    if material is None or material.content_unit != _SQ_FT:
        return 0
    area = exact(setting.width) * exact(setting.height) / 144
    return max(int((material.pack_size / area).to_integral_value()), 1)


def tile_uses(tiles: Iterable[TileTaken], materials: Mapping[str, Material]) -> list[Use]:
    """Each tile as a share of its box, so that it is bought in whole boxes."""
    uses = []
    for tile in tiles:
        material = materials.get(tile.code)
        if material is None or not tile.box:
            continue
        amount = tile.count.to_buy * material.pack_size / tile.box
        worked = (
            f"{tile.count.whole} whole + {tile.count.cut} cut pieces from {tile.count.needed} tiles → "
            f"{tile.count.boxes} boxes of {tile.box} = {tile.count.to_buy} tiles, {plain(amount)} "
            f"{material.content_unit}"
        )
        why = Why(
            "tiles of all layouts, offcuts used again, + attic stock, in whole boxes", worked, "layouts"
        )
        uses.append(Use(tile.name, tile.code, amount, why))
    return uses


def _tile(
    code: str, laid: tuple[LaidSurface, ...], materials: Mapping[str, Material], wanted: Wanted
) -> TileTaken:
    material = materials.get(code)
    box = tiles_in_box(material, laid[0].layout.setting)
    try:
        taken = count([one.layout for one in laid], box=box, attic=wanted.attic)
    except Refusal as refused:
        raise CannotTakeOff(*(Problem(code, problem.message) for problem in refused.problems)) from refused
    return TileTaken(code, material.name if material else code, laid[0].tile, laid, taken, box)


def sq_ft(square_inches: float) -> Decimal:
    """Square feet of a drawing's square inches."""
    return exact(square_inches) / 144
