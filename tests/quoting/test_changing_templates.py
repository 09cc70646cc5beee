"""The shipped templates for what is found: which work each brings, and the cautions that go with it."""

import pytest

from labour.engine.scoping import work_in
from quoting.engine.change_work import extents_of
from tests.labour.rooms import make_figures
from tests.labour.shipped import BY_SLUG, TASKS


def work_of(slug: str, **quantities: str) -> dict[str, str]:
    """What the template asks for in a room, with its quantity."""
    lines = work_in(BY_SLUG[slug], make_figures(**quantities))
    return {line.line.code: f"{line.value.normalize():f}" for line in lines}


def cautions_of(slug: str) -> set[str]:
    return {
        caution for line in BY_SLUG[slug].lines if line.code in TASKS for caution in TASKS[line.code].cautions
    }


@pytest.mark.parametrize(
    ("slug", "extents"),
    [
        ("subfloor-rot", ("area", "length")),
        ("wall-framing-rot", ("area", "count")),
        ("mouldy-board", ("area",)),
        ("old-wiring", ("count",)),
        ("failed-pipe", ("count",)),
    ],
)
def test_each_reads_its_extents_and_nothing_else_of_the_room(slug: str, extents: tuple[str, ...]):
    assert extents_of(BY_SLUG[slug]) == extents
    assert work_of(slug, floor_area="40", wall_area="200", toilet_count="1") == {}


def test_subfloor_rot_is_cut_out_strengthened_and_levelled_for_tile():
    found = {"opened_area": "12", "opened_length": "8"}
    room = make_figures(facts={"floor_tile": "medium"}, **found)

    under_tile = [line.line.code for line in work_in(BY_SLUG["subfloor-rot"], room)]

    assert work_of("subfloor-rot", **found) == {
        "repair-subfloor": "12", "sister-joist": "8", "subfloor-screws": "12", "debris-bag": "2"
    }  # fmt: skip
    assert under_tile[3:5] == ["prime-floor", "level-floor"]


def test_rotten_framing_is_framed_anew_and_blocked():
    assert work_of("wall-framing-rot", opened_area="32", opened_count="4") == {
        "frame-wall": "32", "blocking": "4", "debris-bag": "2"
    }  # fmt: skip


def test_mouldy_board_goes_behind_one_barrier():
    assert work_of("mouldy-board", opened_area="24") == {
        "dust-barrier": "1", "demo-board": "24", "moisture-board": "24", "finish-board": "24",
        "debris-bag": "2",
    }  # fmt: skip


def test_wiring_and_pipes_are_counted_and_need_one_permit():
    assert work_of("old-wiring", opened_count="3") == {
        "rough-wiring-gfci": "3", "set-devices": "3", "permit-electrical": "1"
    }  # fmt: skip
    assert work_of("failed-pipe", opened_count="2") == {
        "move-drain": "2", "pressure-test": "1", "permit-plumbing": "1"
    }  # fmt: skip


@pytest.mark.parametrize(
    ("slug", "cautions"),
    [
        ("subfloor-rot", {"structure", "mould"}),
        ("wall-framing-rot", {"structure"}),
        ("mouldy-board", {"lead", "asbestos", "mould"}),
        ("old-wiring", {"electric"}),
        ("failed-pipe", {"plumbing", "structure"}),
    ],
)
def test_the_house_cautions_go_with_the_work(slug: str, cautions: set[str]):
    assert cautions <= cautions_of(slug)


def test_wiring_and_pipes_are_work_of_a_licensed_trade():
    licences = {
        slug: {TASKS[line.code].licence for line in BY_SLUG[slug].lines if line.code in TASKS}
        for slug in ("old-wiring", "failed-pipe")
    }

    assert licences == {"old-wiring": {"electrical"}, "failed-pipe": {"plumbing"}}
