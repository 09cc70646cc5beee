"""The layers of tile work in a room, in order: what is set and the books come in; cure times
and cautions go out."""

from collections.abc import Iterator, Sequence

from labour.engine.cautions import Caution, cautions_for
from labour.engine.figures import plain
from quoting.engine.layout.values import SurfaceKind
from quoting.engine.materials.values import RuleKind
from quoting.engine.measure.room import House
from quoting.engine.taking_off.rules import find_rule
from quoting.engine.taking_off.values import RoomTaken, Step, TakeoffBooks

_GROUTED = {SurfaceKind.FLOOR: "floor", SurfaceKind.SHOWER_FLOOR: "shower"}


def steps_of(taken: RoomTaken, books: TakeoffBooks) -> Iterator[Step]:
    """Each layer with the clock hours before the next may load it. Tasks that the book lacks are left out."""
    for code in dict.fromkeys(_codes(taken)):
        task = books.tasks.get(code)
        if task and task.cure_hours:
            yield Step(taken.room.name, task.name, task.cure_hours, _words(taken, books, code))


def cautions_of(rooms: Sequence[RoomTaken], books: TakeoffBooks, house: House) -> tuple[Caution, ...]:
    """What can hurt in setting, grouting and waterproofing, each once."""
    tasks = [books.tasks.get(code) for taken in rooms for code in _codes(taken)]
    codes = {code for task in tasks if task for code in task.cautions}
    return cautions_for(codes, year_built=house.year_built)


def _codes(taken: RoomTaken) -> Iterator[str]:
    facts, quantities = taken.figures.facts, taken.figures.quantities
    is_wet = facts["wall_tile"] != "none" or facts["shower_floor_tile"] != "none"
    if "out_of_plumb" in taken.figures.conditions and facts["floor_tile"] != "none":
        yield from ("prime-floor", "level-floor")
    if facts["wall_tile"] != "none" and quantities["wet_wall_area"]:
        yield "board-seams" if facts["backer"] == "cement-board" else "panel-sealant"
    has_base = quantities["shower_floor_area"] and facts["shower_floor_tile"] != "none"
    if has_base:
        yield "shower-mortar-base"
    if is_wet and quantities["membrane_area"]:
        yield from ("membrane-banding", "membrane-two-coats")
    if has_base:
        yield "flood-test"
    yield from (laid.task_code for laid in taken.surfaces)
    for laid in taken.surfaces:
        yield f"grout-{facts['grout']}-{_GROUTED.get(laid.surface.kind, 'wall')}"
    if taken.surfaces:
        yield "movement-sealant"


def _words(taken: RoomTaken, books: TakeoffBooks, code: str) -> str:
    rule = find_rule(books.catalogue, code, taken.figures, kind=RuleKind.FILM)
    if rule is None or "wet_mils" not in rule.values:
        return ""
    coats, mils = rule.values.get("coats", 1), rule.values["wet_mils"]
    return f"{coats} coats, each {plain(mils)} mil wet; read the product's sheet"
