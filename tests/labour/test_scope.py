"""Scope templates: which lines a room calls for, and what is wrong with a template."""

from dataclasses import replace
from decimal import Decimal

import pytest

from labour.engine.expressions import BadExpression
from labour.engine.scope import LineKind, ScopeLine, ScopeTemplate
from labour.engine.scoping import check_template, work_in
from labour.engine.tasks import Task
from labour.engine.vocabulary import Phase
from tests.labour.rooms import make_figures

TASK = Task(
    code="tile-floor-medium",
    name="Set floor tile",
    client_text="Tile the floor",
    phase=Phase.TILE,
    unit_code="sq_ft",
    rate=Decimal(10),
    rate_low=Decimal(7),
    rate_high=Decimal(13),
    setup_hours=Decimal("0.5"),
    crew_min=1,
    crew_max=2,
)
TASKS = {
    TASK.code: TASK,
    "set-toilet": replace(TASK, code="set-toilet", unit_code="each"),
    "set-base": replace(TASK, code="set-base", unit_code="m"),
}
ITEMS = {"debris-bag"}


def make_line(code: str, quantity: str, when: str = "", kind: LineKind = LineKind.TASK) -> ScopeLine:
    return ScopeLine(key=code, kind=kind, code=code, quantity=quantity, when=when)


def make_template(*lines: ScopeLine) -> ScopeTemplate:
    return ScopeTemplate(slug="floor-only", name="New floor", summary="A floor", lines=lines)


def problems_of(*lines: ScopeLine) -> list[str]:
    return [str(problem) for problem in check_template(make_template(*lines), TASKS, ITEMS)]


def test_a_sound_template_has_no_problems():
    sound = (
        make_line("tile-floor-medium", "tiled_floor_area", "floor_tile == 'medium'"),
        make_line("set-toilet", "toilet_count"),
        make_line("set-base", "base_length"),
        make_line("debris-bag", "ceil(floor_area / sq_ft(5))", kind=LineKind.ITEM),
        make_line("tile-floor-medium", "sq_ft(10)", kind=LineKind.UNIT_PRICE),
    )

    assert problems_of(*sound) == []


def test_a_template_without_lines_is_a_problem():
    assert problems_of() == ["floor-only: has no lines; a scope needs at least one"]


@pytest.mark.parametrize(
    ("line", "problem"),
    [
        (
            make_line("set-toilets", "toilet_count"),
            "floor-only line 1 code: set-toilets is not a known task; did you mean set-toilet?",
        ),
        (
            make_line("debris-bags", "1", kind=LineKind.ITEM),
            "floor-only line 1 code: debris-bags is not a known item of the catalogue; "
            "did you mean debris-bag?",
        ),
        (
            make_line("set-toilet", "1", kind=LineKind.ITEM),
            "floor-only line 1 code: set-toilet is not a known item of the catalogue",
        ),
        (
            make_line("tile-floor-medium", "base_length"),
            "floor-only line 1 quantity: “base_length” is a length (lin ft) where tile-floor-medium takes "
            "an area (sq ft)",
        ),
        (
            make_line("debris-bag", "floor_area", kind=LineKind.ITEM),
            "floor-only line 1 quantity: “floor_area” is an area (sq ft) where an item takes a count",
        ),
        (
            make_line("set-toilet", "1", kind=LineKind.UNIT_PRICE, when="toilets > 0"),
            "floor-only line 1 when: “toilets > 0”: toilets is not a known name; did you mean toilet_count?",
        ),
        (
            make_line("set-toilet", "toilet_cuont"),
            "floor-only line 1 quantity: “toilet_cuont”: toilet_cuont is not a known name; "
            "did you mean toilet_count?",
        ),
    ],
)
def test_a_problem_names_template_line_and_expression(line, problem):
    assert problems_of(line) == [problem]


def test_every_problem_of_every_line_is_found():
    found = problems_of(make_line("set-toilet", "1"), make_line("nothing", "floor_area +", "wall_tile"))

    assert [text.split(":")[0] for text in found] == [
        "floor-only line 2 code",
        "floor-only line 2 quantity",
        "floor-only line 2 when",
    ]


def test_a_line_that_repeats_another_word_for_word_is_a_problem():
    once = make_line("set-toilet", "toilet_count")
    other_case = replace(once, when="small_room")

    found = problems_of(once, other_case, replace(once, key="another key"))

    assert found == ["floor-only line 3 code: set-toilet repeats line 1 word for word; remove one of them"]


def test_lines_apply_when_their_condition_holds_and_there_is_something_to_do():
    template = make_template(
        make_line("tile-floor-medium", "tiled_floor_area", "floor_tile == 'medium'"),
        make_line("tile-floor-large", "tiled_floor_area", "floor_tile == 'large'"),
        make_line("set-tub", "tub_count"),
        make_line("set-toilet", "toilet_count"),
    )
    room = make_figures(facts={"floor_tile": "large"}, tiled_floor_area="31.255", toilet_count="1")

    found = [(scoped.line.code, scoped.value, scoped.room) for scoped in work_in(template, room)]

    assert found == [
        ("tile-floor-large", Decimal("31.255"), "Hall bath"),
        ("set-toilet", Decimal(1), "Hall bath"),
    ]


def test_a_scoped_line_says_how_its_quantity_came_about():
    template = make_template(make_line("cement-board-wall", "wet_wall_area + niche_face_area"))

    why = work_in(template, make_figures(wet_wall_area="82.5", niche_face_area="3"))[0].why

    assert why.formula == "wet_wall_area + niche_face_area"
    assert why.worked == "wet_wall_area 82.50 + niche_face_area 3.00 = 85.50 sq ft"
    assert why.source == "floor-only line 1"


def test_a_unit_price_keeps_the_quantity_it_is_stated_for():
    line = make_line("repair-subfloor", "sq_ft(10)", "existing_floor != 'concrete'", LineKind.UNIT_PRICE)
    wood, concrete = ({"existing_floor": kind} for kind in ("wood", "concrete"))

    assert [scoped.value for scoped in work_in(make_template(line), make_figures(facts=wood))] == [10]
    assert work_in(make_template(line), make_figures(facts=concrete)) == ()


def test_a_line_that_does_not_apply_is_not_measured():
    line = make_line("set-toilet", "floor_area / wall_area", "wall_area > 0")

    assert work_in(make_template(line), make_figures(floor_area="40")) == ()


def test_a_room_that_a_line_cannot_be_measured_in_is_named_with_the_line():
    template = make_template(make_line("set-toilet", "1"), make_line("set-toilet", "floor_area / wall_area"))

    with pytest.raises(BadExpression) as caught:
        work_in(template, make_figures(floor_area="40"))

    said = "“floor_area / wall_area”: divides by zero in Hall bath; add a condition > 0"
    assert str(caught.value) == f"floor-only line 2: {said}"
