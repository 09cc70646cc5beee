"""The templates that are shipped: sound, complete, and right about what a room needs."""

from decimal import Decimal

import pytest

from labour.engine.scope import LineKind
from labour.engine.scoping import check_template, work_in
from labour.engine.vocabulary import CONDITIONS, FACTS
from tests.labour.rooms import make_figures
from tests.labour.shipped import BY_SLUG, ITEMS, TASKS, TEMPLATES

BUILT_FLOOR = {
    "shower-mortar-base",
    "membrane-drain",
    "flood-test",
    "tile-shower-floor",
    "frame-curb",
    "tile-curb",
}


def codes_in(slug: str, option: str = "", facts: dict[str, str] | None = None, **given: str) -> list[str]:
    lines = work_in(BY_SLUG[slug], make_figures(facts=facts, **given))
    return [s.line.code for s in lines if s.line.option == option and s.line.kind is not LineKind.UNIT_PRICE]


def test_at_least_twelve_templates_are_shipped():
    assert len(TEMPLATES) >= 12
    assert {"hall-bath-to-the-studs", "tub-to-shower", "powder-room", "regrout-shower"} <= BY_SLUG.keys()


def test_every_shipped_task_has_its_place_in_a_template_and_words_of_its_own():
    used = {line.code for template in TEMPLATES for line in template.lines if line.kind is not LineKind.ITEM}

    assert used == TASKS.keys()
    assert len({task.client_text for task in TASKS.values()}) == len(TASKS)


@pytest.mark.parametrize("template", TEMPLATES, ids=lambda template: template.slug)
def test_a_shipped_template_is_sound_against_the_shipped_rate_book_and_catalogue(template):
    assert check_template(template, TASKS, ITEMS) == ()
    assert len(template.exclusions) >= 2
    is_whole_job = template.slug != "niche-add-on" and not extents_of(template)
    assert any(line.code == "walk-through" for line in template.lines) == is_whole_job


def extents_of(template):
    """What a template for a change order reads of what was opened."""
    return [line.quantity for line in template.lines if "opened_" in line.quantity]


@pytest.mark.parametrize("template", TEMPLATES, ids=lambda template: template.slug)
def test_a_shipped_template_can_be_measured_in_an_empty_room_under_every_fact_and_condition(template):
    for name, values in FACTS.items():
        for value in values:
            work_in(template, make_figures(*CONDITIONS, facts={name: value}))


def test_each_tile_brings_its_own_task_and_no_other():
    for kind in FACTS["wall_tile"]:
        facts = {"wall_tile": kind, "floor_tile": "none"}
        codes = codes_in("hall-bath-to-the-studs", facts=facts, tiled_wall_area="80")
        assert len([code for code in codes if code.startswith("tile-wall-")]) == (kind != "none")


def test_each_existing_floor_is_taken_up_by_its_own_task():
    taken = {
        kind: [
            code
            for code in codes_in("floor-only", facts={"existing_floor": kind}, tiled_floor_area="30")
            if code in ("demo-floor-tile-sawn", "demo-sheet-floor")
        ]
        for kind in FACTS["existing_floor"]
    }

    assert taken == {
        "tile": ["demo-floor-tile-sawn"],
        "sheet": ["demo-sheet-floor"],
        "wood": [],
        "concrete": [],
    }


def test_a_tiled_shower_floor_has_a_mortar_base_and_a_flood_test():
    shower = {"shower_count": "1", "shower_floor_area": "12", "curb_length": "5"}
    codes = codes_in("tub-to-shower", facts={"shower_floor_tile": "mosaic-sheet"}, **shower)

    assert set(codes) >= BUILT_FLOOR
    assert "set-shower-pan" not in codes
    assert "flood-test" not in codes_in("hall-bath-to-the-studs", tub_count="1")


@pytest.mark.parametrize("slug", ["hall-bath-to-the-studs", "tub-to-shower", "waterproofing-repair"])
def test_a_shower_floor_without_tile_is_a_ready_made_pan_and_nothing_of_a_built_one(slug):
    shower = {"shower_count": "1", "shower_floor_area": "12", "curb_length": "5", "membrane_area": "13.25"}
    codes = set(codes_in(slug, facts={"shower_floor_tile": "none"}, **shower))

    assert "set-shower-pan" in codes
    assert codes & (BUILT_FLOOR | {"membrane-two-coats", "grout-cement-shower"}) == set()


@pytest.mark.parametrize(
    ("facts", "area"),
    [
        # 120 of membrane less niche faces 4 and bench 10, which are counted by the piece
        ({"backer": "cement-board", "shower_floor_tile": "small"}, "106"),
        # less the wet walls 80 as well: panels are proof of themselves
        ({"backer": "foam-panel", "shower_floor_tile": "small"}, "26"),
        # less the shower floor 20 and the turn-up 8 × 0.25 = 2 at its curb: a pan is proof of itself
        ({"backer": "cement-board", "shower_floor_tile": "none"}, "84"),
    ],
)
def test_membrane_is_rolled_once_and_only_where_nothing_else_is_proof(facts, area):
    room = {"wet_wall_area": "80", "membrane_area": "120", "niche_face_area": "4", "bench_area": "10"}
    room |= {"shower_floor_area": "20", "curb_length": "8"}
    figures = make_figures(facts={"wall_tile": "small"} | facts, **room)
    lines = work_in(BY_SLUG["hall-bath-to-the-studs"], figures)

    areas = [scoped.value for scoped in lines if scoped.line.quantity.startswith("max(0, membrane_area")]

    assert areas == [Decimal(area)]


def test_walls_without_tile_get_panels_and_no_membrane():
    room = {"wet_wall_area": "52", "membrane_area": "52", "tub_count": "1"}

    codes = codes_in("wall-tile-over-tub", facts={"wall_tile": "none"}, **room)

    assert "set-wall-panels" in codes
    assert {"cement-board-wall", "membrane-two-coats"} & set(codes) == set()


@pytest.mark.parametrize(
    ("conditions", "tests"),
    [
        ((), set()),
        (("before_1981",), {"asbestos-test"}),
        (("before_1978", "before_1981"), {"lead-test-kit", "asbestos-test"}),
    ],
)
def test_an_old_house_is_tested_before_it_is_opened(conditions, tests):
    for slug, existing in (("hall-bath-to-the-studs", {}), ("floor-only", {"existing_floor": "sheet"})):
        lines = work_in(BY_SLUG[slug], make_figures(*conditions, facts=existing))
        found = [s.line.code for s in lines if s.line.code in ("lead-test-kit", "asbestos-test")]
        assert sorted(found) == sorted(tests)


def test_a_new_floor_sets_back_what_was_there_and_buys_none_of_it():
    room = {"toilet_count": "1", "vanity_count": "1", "basin_count": "1", "door_count": "1"}

    codes = set(codes_in("floor-only", **room))

    assert {"demo-toilet", "reset-toilet", "demo-vanity", "reset-vanity", "rehang-door"} <= codes
    assert codes & {"set-toilet", "set-vanity", "set-vanity-top", "set-faucet", "hang-door"} == set()
    assert codes_in("floor-only", option="New toilet in place of the old one", **room) == ["toilet"]


def test_a_shower_is_regrouted_over_its_walls_and_its_tiled_floor():
    facts = {"shower_floor_tile": "mosaic-sheet", "wall_tile": "medium"}
    room = {"wet_wall_area": "70", "niche_face_area": "4", "shower_floor_area": "12"}
    lines = work_in(BY_SLUG["regrout-shower"], make_figures(facts=facts, change_of_plane_length="24", **room))

    found = {scoped.line.code: scoped.value for scoped in lines}

    # 70 + 4 of wall, 12 of floor
    assert (found["cut-out-grout"], found["grout-cement-wall"], found["grout-cement-shower"]) == (86, 74, 12)
    assert found["cut-out-sealant"] == found["movement-sealant"] == 24


@pytest.mark.parametrize("slug", ["hall-bath-to-the-studs", "primary-bath", "wall-tile-over-tub"])
def test_epoxy_grout_takes_the_place_of_cement_grout_line_by_line(slug):
    facts = {"grout": "cement", "wall_tile": "medium", "floor_tile": "medium", "shower_floor_tile": "small"}
    room = {"tiled_wall_area": "80", "wet_wall_area": "70", "tiled_floor_area": "30", "curb_length": "4"}
    lines = work_in(BY_SLUG[slug], make_figures(facts=facts, shower_floor_area="12", **room))
    name = "Epoxy grout in place of cement grout"

    goes = [(s.line.code.removeprefix("grout-cement-"), s.value) for s in lines if name in s.line.replaced_by]
    comes = [(s.line.code.removeprefix("grout-epoxy-"), s.value) for s in lines if s.line.option == name]

    assert goes == comes != []
    assert [s.line.code for s in lines if s.line.code.startswith("grout-") and not s.line.option] == [
        f"grout-cement-{where}" for where, _ in goes
    ]


def test_the_heated_floor_is_an_option_and_not_in_the_base_scope():
    facts = {"floor_tile": "medium", "existing_floor": "wood"}

    assert "floor-heat-wiring" not in codes_in("floor-only", facts=facts, tiled_floor_area="30")
    assert codes_in("floor-only", option="Heated floor", facts=facts, tiled_floor_area="30") == [
        "uncoupling-mat",
        "floor-heat-wiring",
        "permit-electrical",
    ]
