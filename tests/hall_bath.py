"""A hall bath of 5 × 8 ft with books in round numbers, small enough to be priced with paper and pencil.

The figures that follow from it are worked out by hand in `tests/flows/test_hand_worked_room.py`.
"""

from datetime import date
from decimal import Decimal
from typing import Any

from labour.engine.scope import LineKind, ScopeLine, ScopeTemplate
from labour.engine.tasks import Task
from labour.engine.vocabulary import Phase
from quoting.engine.estimate import Books, RoomScope
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.materials.values import ConsumptionRule, Material, RuleKind
from quoting.engine.measure.quantities import measure_room
from quoting.engine.measure.rooms_file import read_rooms
from quoting.engine.pricing.values import Category, CategoryRule, Method, PricePolicy, SalesTax

ROOM = "Hall bath"
SLUG = "tub-surround"
OPTION = "Heated floor"

ROOMS: dict[str, Any] = {
    "format": "screedbook-rooms-1",
    "client": {"name": "Ada Brook", "email": "ada@example.com"},
    "site": {"address": "4 Wharf Row", "year_built": 1972, "occupied": True, "storeys_to_carry": 1},
    "rooms": [
        {
            "name": ROOM,
            "outline": {"width": "5'", "length": "8'"},
            "ceiling": "8'",
            "openings": [
                {"kind": "door", "wall": "C", "width": '30"', "height": "6' 8\""},
                {"kind": "window", "wall": "A", "width": "2'", "height": "2'", "sill": "4'"},
            ],
            "fixtures": [
                {"kind": "tub", "wall": "A", "width": "5'", "depth": '30"', "height": '12"'},
                {"kind": "toilet", "wall": "D", "offset": "2'"},
                {"kind": "vanity", "wall": "B", "offset": "4'", "width": '30"'},
            ],
            "niches": [{"wall": "B", "width": "1'", "height": "2'", "depth": '3"'}],
            "finishes": {"floor_tile": "medium", "wall_tile": "medium", "base": "wood"},
            "counts": {"lights": 2, "fans": 1, "mirrors": 1, "accessories": 4},
            "conditions": ["out_of_plumb"],
        }
    ],
}


def _task(code: str, words: str, phase: Phase, unit: str, rate: str, setup: str, **more: Any) -> Task:
    """A task whose range is its rate, so that its hours have no spread."""
    rates = (Decimal(rate), Decimal(rate), Decimal(rate))
    return Task(code, words, words, phase, unit, *rates, Decimal(setup), 1, 2, **more)


SMALL = {"small_room": Decimal("1.1")}
PLUMB = {"out_of_plumb": Decimal("1.2")}
STAIRS = {"upper_floor": Decimal("1.25")}
TASKS = (
    _task("take-out-tub", "Take out the tub", Phase.DEMOLITION, "each", "0.5", "0.5", cautions=("silica",)),
    _task("set-valve", "Set the shower valve", Phase.ROUGH_IN, "each", "0.25", "0", licence="plumbing"),
    _task("hang-backer", "Hang tile backer", Phase.BOARD, "sq_ft", "20", "0.25", cautions=("silica",)),
    _task("tile-wall", "Tile the walls", Phase.TILE, "sq_ft", "8", "1", conditions=SMALL | PLUMB),
    _task("tile-floor", "Tile the floor", Phase.TILE, "sq_ft", "11", "0.5", conditions=SMALL),
    _task("run-base", "Run new base", Phase.FINISH, "lin_ft", "22", "0.25"),
    _task("paint-walls", "Paint the walls", Phase.FINISH, "sq_ft", "100", "0.5"),
    _task("clean", "Clean up", Phase.CLEAN_UP, "each", "0.5", "0", conditions=STAIRS),
    _task("lay-heat-mat", "Lay a heating mat", Phase.SUBFLOOR, "sq_ft", "11", "0.5", licence="electrical"),
    _task("mend-subfloor", "Mend the subfloor", Phase.SUBFLOOR, "sq_ft", "5", "0"),
)

_ON = date(2026, 10, 1)


def _material(code: str, name: str, category: Category, unit: str, size: str, price: str) -> Material:
    pack = f"{size} {unit} pack"
    return Material(code, name, category, unit, pack, Decimal(size), Decimal(price), _ON, "Quay Supply")


_M, _A = Category.MATERIAL, Category.ALLOWANCE
MATERIALS = (
    _material("valve", "Shower valve body", _M, "each", "1", "150.00"),
    _material("backer", "Backer board", _M, "sheet", "1", "20.00"),
    _material("thinset", "Thin-set mortar", _M, "lb", "25", "30.00"),
    _material("glass-thinset", "Mortar for glass", _M, "lb", "25", "55.00"),
    _material("base", "Base board", _M, "lin ft", "8", "12.00"),
    _material("paint", "Wall paint", _M, "gal", "1", "45.00"),
    _material("plywood", "Plywood", _M, "sheet", "1", "48.00"),
    _material("heat-mat", "Heating mat", _M, "sq ft", "10", "100.00"),
    _material("thermostat", "Floor thermostat", _M, "each", "1", "200.00"),
    _material("wall-tile", "Wall tile of your choice", _A, "sq ft", "10", "40.00"),
    _material("floor-tile", "Floor tile of your choice", _A, "sq ft", "10", "50.00"),
    _material("dumpster", "Debris container", Category.DISPOSAL, "each", "1", "300.00"),
    _material("permit", "Plumbing permit", Category.PERMIT, "each", "1", "120.00"),
)


def _rule(
    task: str, material: str, kind: RuleKind, waste: str = "0", when: str = "", **values: str
) -> ConsumptionRule:
    figures = {name: Decimal(value) for name, value in values.items()}
    return ConsumptionRule(task, material, kind, figures, Decimal(waste), when, "worked by hand")


RULES = (
    _rule("set-valve", "valve", RuleKind.EACH, per_unit="1"),
    _rule("hang-backer", "backer", RuleKind.SHEET, "10", sheet_area="15"),
    _rule("tile-wall", "thinset", RuleKind.COVERAGE, when="wall_tile == 'medium'", covers="2"),
    _rule("tile-wall", "glass-thinset", RuleKind.COVERAGE, when="wall_tile == 'glass-mosaic'", covers="2"),
    _rule("tile-wall", "wall-tile", RuleKind.EACH, "10", per_unit="1"),
    _rule("tile-floor", "thinset", RuleKind.COVERAGE, covers="2"),
    _rule("tile-floor", "floor-tile", RuleKind.EACH, "10", per_unit="1"),
    _rule("run-base", "base", RuleKind.LENGTH, "10"),
    _rule("paint-walls", "paint", RuleKind.COVERAGE, covers="400", coats="2"),
    _rule("mend-subfloor", "plywood", RuleKind.SHEET, sheet_area="32"),
    _rule("lay-heat-mat", "heat-mat", RuleKind.EACH, per_unit="1"),
)

_T, _I = LineKind.TASK, LineKind.ITEM
TEMPLATE = ScopeTemplate(
    slug=SLUG,
    name="Tub surround and floor",
    summary="New tile around the tub and on the floor.",
    lines=(
        ScopeLine("", _T, "take-out-tub", "tub_count"),
        ScopeLine("", _T, "set-valve", "tub_count + shower_count"),
        ScopeLine("", _I, "permit", "1"),
        ScopeLine("", _T, "hang-backer", "wet_wall_area + niche_face_area"),
        ScopeLine("", _T, "tile-wall", "tiled_wall_area", "wall_tile != 'none'"),
        ScopeLine("", _T, "tile-floor", "tiled_floor_area", "floor_tile != 'none'"),
        ScopeLine("", _T, "run-base", "base_length", "base == 'wood'"),
        ScopeLine("", _T, "paint-walls", "paint_wall_area"),
        ScopeLine("", _I, "dumpster", "1"),
        ScopeLine("", _T, "clean", "room_count"),
        ScopeLine("", _T, "lay-heat-mat", "tiled_floor_area", "", OPTION),
        ScopeLine("", _I, "thermostat", "1", "", OPTION),
        ScopeLine("", LineKind.UNIT_PRICE, "mend-subfloor", "sq_ft(10)"),
    ),
    exclusions=("Moving pipes inside a wall.",),
)


def _percents(
    overhead: str = "0",
    contingency: str = "0",
    percent: str = "0",
    tax: str = "0",
    method: Method = Method.MARKUP,
) -> CategoryRule:
    return CategoryRule(Decimal(overhead), Decimal(contingency), method, Decimal(percent), Decimal(tax))


PRICE_RULES = {
    Category.LABOUR: _percents("25", "20", "25", method=Method.MARGIN),
    Category.MATERIAL: _percents(percent="25", tax="8"),
    Category.SUBCONTRACT: _percents(percent="15"),
    Category.EQUIPMENT: _percents(),
    Category.DISPOSAL: _percents("5", percent="20"),
    Category.PERMIT: _percents(),
    Category.ALLOWANCE: _percents(percent="10"),
}
TAXES = (
    SalesTax("Sales tax", Decimal(6), frozenset({Category.MATERIAL, Category.ALLOWANCE})),
    SalesTax("Disposal levy", Decimal("2.5"), frozenset({Category.DISPOSAL})),
)
MILESTONES = (("On signing", Decimal(10)), ("Start of work", Decimal(40)), ("At the end", Decimal(50)))
LABOUR_COST, PLUMBER_COST = Decimal("50.00"), Decimal("100.00")


def make_books(**materials: Material) -> Books:
    """The books as engine values; a material named by its code with "_" for "-" replaces the usual one."""
    replaced = {material.code: material for material in materials.values()}
    rules: dict[str, tuple[ConsumptionRule, ...]] = {}
    for rule in RULES:
        rules[rule.task_code] = (*rules.get(rule.task_code, ()), rule)
    catalogue = Catalogue({material.code: material for material in MATERIALS} | replaced, rules)
    licences = {"plumbing": PLUMBER_COST}
    policy = PricePolicy(PRICE_RULES, TAXES, LABOUR_COST, "average of 2 workers", licences)
    return Books({task.code: task for task in TASKS}, catalogue, policy)


def make_scope() -> RoomScope:
    """The room, measured, with its template."""
    read = read_rooms(ROOMS)
    return RoomScope(measure_room(read.rooms[0][0], read.house), TEMPLATE)
