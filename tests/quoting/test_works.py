"""Lines of work: alike lines joined in a room, what serves the job kept once, the owner's changes last."""

from decimal import Decimal

from labour.engine.scope import LineKind, RoomFigures, ScopeLine, ScopeTemplate
from labour.engine.tasks import Task
from labour.engine.vocabulary import Phase
from quoting.engine.estimate import Books, Changes
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.materials.values import Material
from quoting.engine.pricing.values import Category, PricePolicy
from quoting.engine.work_line import WorkLine
from quoting.engine.works import AddedWork, lines_of_rooms
from tests.labour.rooms import make_figures

OPTION = "New vanity"


def make_task(code: str, unit: str = "each") -> Task:
    one = Decimal(1)
    return Task(code, code, code, Phase.FIXTURES, unit, one, one, one, Decimal("0.10"), 1, 1)


def make_item(code: str, category: Category) -> Material:
    return Material(code, code, category, "each", "each", Decimal(1), Decimal(100))


TASKS = {task.code: task for task in (make_task("supply-line"), make_task("caulk", "lin_ft"))}
ITEMS = {
    item.code: item
    for item in (
        make_item("permit", Category.PERMIT),
        make_item("scrubber", Category.EQUIPMENT),
        make_item("dumpster-10yd", Category.DISPOSAL),
        make_item("debris-bag", Category.DISPOSAL),
    )
}
BOOKS = Books(TASKS, Catalogue(ITEMS), PricePolicy({}))


def task_line(code: str, quantity: str, option: str = "") -> ScopeLine:
    return ScopeLine("", LineKind.TASK, code, quantity, option=option)


def item_line(code: str, quantity: str = "1", option: str = "") -> ScopeLine:
    return ScopeLine("", LineKind.ITEM, code, quantity, option=option)


def make_room(name: str, *lines: ScopeLine, **quantities: str) -> tuple[RoomFigures, ScopeTemplate]:
    figures = make_figures(name=name, facts={"base": "wood"}, **quantities)
    return figures, ScopeTemplate("bath", "Bath", "A bath", lines)


def works(*rooms: tuple[RoomFigures, ScopeTemplate], changes: Changes | None = None) -> list[WorkLine]:
    return list(lines_of_rooms(rooms, BOOKS, changes or Changes()))


def amounts(*rooms: tuple[RoomFigures, ScopeTemplate], changes: Changes | None = None) -> dict[str, str]:
    return {line.key: str(line.quantity) for line in works(*rooms, changes=changes)}


def test_alike_lines_of_a_room_are_one_line_with_the_sum_where_the_first_stood():
    toilet, basin = task_line("supply-line", "toilet_count"), task_line("supply-line", "2 * basin_count")
    room = make_room("Bath", toilet, item_line("permit"), basin, toilet_count="1", basin_count="2")

    # 1 + 2 × 2 = 5
    assert list(amounts(room).items()) == [("Bath/supply-line", "5.00"), ("Bath/permit", "1.00")]


def test_a_joined_line_says_what_it_was_joined_from():
    base = task_line("caulk", "base_length")
    casing = task_line("caulk", "opening_casing_length if base == 'wood' else ft(0)")
    room = make_room("Bath", base, casing, base_length="9.25", opening_casing_length="22.835")

    why = works(room)[0].why

    assert why.formula == "base_length + (opening_casing_length if base == 'wood' else ft(0))"
    assert why.worked.startswith("base_length 9.25 lin ft; opening_casing_length 22.84 if ")
    # 9.25 + 22.835, which rounds to 22.84, = 32.09
    assert why.worked.endswith("= 22.84 lin ft; together 32.09 lin ft")
    assert why.source == "bath line 1, bath line 2"


def test_a_code_in_the_base_scope_and_in_an_option_keeps_two_lines_and_two_keys():
    option, base = task_line("supply-line", "2", OPTION), task_line("supply-line", "1")

    found = {line.key: (line.option, line.quantity) for line in works(make_room("Bath", option, base))}

    assert found == {"Bath/supply-line": ("", 1), "Bath/supply-line#2": (OPTION, 2)}


def test_an_option_keeps_its_key_when_it_is_taken():
    room = make_room("Bath", task_line("supply-line", "1"), task_line("supply-line", "2", OPTION))

    taken = works(room, changes=Changes(options=frozenset({OPTION})))

    assert [(line.key, line.option) for line in taken] == [
        ("Bath/supply-line", ""),
        ("Bath/supply-line#2", ""),
    ]


def test_permits_hired_machines_and_containers_count_once_a_job_on_the_first_room_that_has_them():
    bag, container, scrubber = item_line("debris-bag", "4"), item_line("dumpster-10yd"), item_line("scrubber")
    hall = make_room("Hall", bag, scrubber)
    guest = make_room("Guest", bag, item_line("permit"), container)
    primary = make_room("Primary", bag, item_line("permit"), item_line("dumpster-10yd", "2"), scrubber)

    assert amounts(hall, guest, primary) == {
        "Hall/debris-bag": "4.00",
        "Hall/scrubber": "1.00",
        "Guest/debris-bag": "4.00",
        "Guest/permit": "1.00",
        "Guest/dumpster-10yd": "2.00",
        "Primary/debris-bag": "4.00",
    }


def test_an_item_kept_once_says_so():
    rooms = [
        make_room("Guest", item_line("dumpster-10yd")),
        make_room("Primary", item_line("dumpster-10yd", "2")),
    ]

    why = works(*rooms)[0].why

    assert why.formula == "once for the job: the most that one room asks for"
    assert why.worked == "the largest of Guest 1.00, Primary 2.00 = 2.00 each"


def test_an_option_brings_a_permit_only_where_the_base_scope_has_none():
    bare = make_room("Hall", item_line("permit", "1", OPTION))
    permitted = make_room("Guest", item_line("permit"))

    assert amounts(bare) == {"Hall/permit": "1.00"}
    assert amounts(bare, permitted) == {"Guest/permit": "1.00"}
    assert amounts(bare, permitted, changes=Changes(options=frozenset({OPTION}))) == {"Hall/permit": "1.00"}


def test_an_item_left_out_is_left_out_of_the_job():
    rooms = [make_room("Hall", item_line("permit")), make_room("Guest", item_line("permit"))]

    assert amounts(*rooms, changes=Changes(left_out=frozenset({"Hall/permit"}))) == {}


def test_a_quantity_set_by_hand_stands_in_place_of_the_sum_and_of_the_largest():
    lines = (task_line("supply-line", "1"), task_line("supply-line", "2"), item_line("dumpster-10yd", "3"))
    changes = Changes(quantities={"Hall/supply-line": Decimal("7.00"), "Hall/dumpster-10yd": Decimal("1.00")})

    found = works(
        make_room("Hall", *lines), make_room("Guest", item_line("dumpster-10yd", "2")), changes=changes
    )

    assert {line.key: line.quantity for line in found} == {"Hall/supply-line": 7, "Hall/dumpster-10yd": 1}
    assert found[1].why.worked == "1.00 each instead of the largest of Hall 3.00, Guest 2.00 = 3.00 each"


def test_added_work_stands_by_itself_and_can_be_set_and_left_out():
    room = make_room("Hall", task_line("supply-line", "1"))
    twice = (AddedWork("Hall", "supply-line", Decimal(2)), AddedWork("Hall", "supply-line", Decimal(3)))
    changes = Changes(
        added=twice,
        quantities={"Hall/supply-line#2": Decimal(5)},
        left_out=frozenset({"Hall/supply-line#3"}),
    )

    assert amounts(room, changes=changes) == {"Hall/supply-line": "1.00", "Hall/supply-line#2": "5"}
