"""The templates that are shipped: sound, complete, and right about what a room needs."""

import pytest

from labour.engine.scope import LineKind
from labour.engine.scoping import check_template, work_in
from labour.engine.vocabulary import CONDITIONS, FACTS
from tests.labour.rooms import make_figures
from tests.labour.shipped import BY_SLUG, ITEMS, TASKS, TEMPLATES


def codes_in(slug: str, option: str = "", facts: dict[str, str] | None = None, **given: str) -> list[str]:
    lines = work_in(BY_SLUG[slug], make_figures(facts=facts, **given))
    return [s.line.code for s in lines if s.line.option == option and s.line.kind is not LineKind.UNIT_PRICE]


def test_at_least_twelve_templates_are_shipped():
    assert len(TEMPLATES) >= 12
    assert {"hall-bath-to-the-studs", "tub-to-shower", "powder-room", "primary-bath"} <= BY_SLUG.keys()


@pytest.mark.parametrize("template", TEMPLATES, ids=lambda template: template.slug)
def test_a_shipped_template_is_sound_against_the_shipped_rate_book_and_catalogue(template):
    assert check_template(template, TASKS, ITEMS) == ()
    assert len(template.exclusions) >= 2
    assert any(line.code == "walk-through" for line in template.lines) or template.slug == "niche-add-on"


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


def test_a_shower_is_flood_tested_and_a_tub_is_not():
    assert "flood-test" in codes_in("hall-bath-to-the-studs", shower_count="1", shower_floor_area="12")
    assert "flood-test" not in codes_in("hall-bath-to-the-studs", tub_count="1")


def test_foam_panels_get_no_second_membrane_on_the_walls():
    room = {"wet_wall_area": "80", "membrane_area": "120"}
    lines = work_in(BY_SLUG["hall-bath-to-the-studs"], make_figures(facts={"backer": "foam-panel"}, **room))

    areas = [scoped.value for scoped in lines if scoped.line.code == "membrane-two-coats"]

    assert areas == [40]


def test_the_heated_floor_is_an_option_and_not_in_the_base_scope():
    facts = {"floor_tile": "medium", "existing_floor": "wood"}

    assert "floor-heat-wiring" not in codes_in("floor-only", facts=facts, tiled_floor_area="30")
    assert codes_in("floor-only", option="Heated floor", facts=facts, tiled_floor_area="30") == [
        "uncoupling-mat",
        "floor-heat-wiring",
    ]
