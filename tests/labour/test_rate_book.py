"""The rate book: reading its files, filling a firm's book, changing a task."""

from decimal import Decimal

import pytest

from labour.engine.task_check import BadTask, task_from
from labour.engine.vocabulary import Phase
from labour.firm.models import AuditLine
from labour.ratebook.models import TaskRow
from labour.ratebook.queries import get_rate_book, list_tasks
from labour.ratebook.reading import BadRateBook, read_rate_book
from labour.ratebook.services import (
    CannotAddTask,
    CannotChangeTask,
    add_task,
    change_task,
    fields_of,
    load_rate_book,
)
from tests.labour.tasks import make_task
from tests.makers import AT, make_firm, make_member

FIELDS = {
    "code": "set-sauna-bench",
    "name": "Set sauna bench",
    "client_text": "Set the sauna bench",
    "phase": "fixtures",
    "unit": "each",
    "rate": "0.5",
    "rate_low": "0.3",
    "rate_high": "0.8",
    "setup_hours": "0.25",
    "crew_min": 1,
    "crew_max": 2,
    "source": "starting guess",
}


def write_book(folder, **changes):
    fields = {name: value for name, value in {**FIELDS, **changes}.items() if value is not None}
    lines = [f"{name} = {value!r}" for name, value in fields.items()]
    (folder / "04-own.toml").write_text("\n".join(["[[task]]", *lines]), encoding="utf-8")
    return folder


def make_book(firm):
    load_rate_book(firm=firm, tasks=[make_task(setup_hours=Decimal("0.75"))])
    return TaskRow.objects.of(firm).get(code="tile-floor-medium")


def change(firm, by=None, **changes):
    return change_task(firm=firm, code="tile-floor-medium", changes=changes, by=by, at=AT)


def test_the_starting_book_covers_every_phase():
    tasks = read_rate_book()

    assert len(tasks) >= 85
    assert {task.phase for task in tasks} == set(Phase)


def test_a_starting_rate_is_a_guess_unless_its_source_has_an_edition():
    cited = [task for task in read_rate_book() if task.source != "starting guess"]

    assert [task.code for task in cited] == ["moisture-board"]
    assert "Oct 1996" in cited[0].source


def test_licensed_tasks_carry_the_caution_of_their_trade():
    trades = {"plumbing": "plumbing", "electrical": "electric"}

    assert all(trades[task.licence] in task.cautions for task in read_rate_book() if task.licence)


@pytest.mark.parametrize(
    "code", ["level-floor", "membrane-two-coats", "tile-floor-medium", "grout-cement-wall"]
)
def test_what_cures_says_for_how_long(code):
    book = {task.code: task for task in read_rate_book()}

    assert book[code].cure_hours == 24


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"rate": "0"}, "rate: 0 must be a number from 0.001"),
        ({"rate": "NaN"}, "rate: NaN must be a number"),
        ({"rate": "fast"}, "rate: “fast” is not a number"),
        ({"rate": 0.5}, "rate: 0.5 is not a decimal; write it as text"),
        ({"rate_low": "0.6"}, "rate_low: The low rate 0.6 is above the rate 0.5"),
        ({"rate_high": "0.4"}, "rate_high: The high rate 0.4 is below the rate 0.5"),
        ({"unit": "yard"}, "unit: “yard” is not one of each, lin_ft"),
        ({"phase": "roofing"}, "phase: “roofing” is not one of protection"),
        ({"cautions": ["dust"]}, "cautions: “dust” is not one of silica"),
        ({"licence": "notary"}, "licence: “notary” is not one of none"),
        ({"name": None}, "name: Missing"),
        ({"rate_high": None}, "rate_high: Missing"),
        ({"crew_min": 3}, "crew_min: The smallest crew 3 is above the largest 2"),
        ({"colour": "red"}, "colour: There is no such field"),
        ({"code": "Set Sauna"}, "code: Use lower-case letters"),
        ({"cure_hours": "-1"}, "cure_hours: -1 must be a number from 0"),
        ({"setup_hours": "0.255"}, "setup_hours: 0.255 has more than 2 decimals"),
    ],
)
def test_a_wrong_field_is_named_with_its_file_and_task(tmp_path, changes, message):
    code = changes.get("code", "set-sauna-bench")

    with pytest.raises(BadRateBook) as refused:
        read_rate_book(write_book(tmp_path, **changes))

    assert f"04-own.toml, {code}, {message}" in str(refused.value)


@pytest.mark.parametrize(
    ("conditions", "message"),
    [
        ({"rainy": "1.1"}, "“rainy” is not one of small_room"),
        ({"occupied": "0.9"}, "occupied: 0.9 must be a number from 1 to 5"),
        ("small_room", "Write condition names"),
    ],
)
def test_conditions_are_known_and_never_shorten(conditions, message):
    with pytest.raises(BadTask, match=message):
        task_from({**FIELDS, "conditions": conditions})


def test_a_code_used_twice_is_refused_with_both_files(tmp_path):
    write_book(tmp_path)
    (tmp_path / "05-more.toml").write_text((tmp_path / "04-own.toml").read_text())

    with pytest.raises(
        BadRateBook, match=r"05-more.toml, set-sauna-bench, code: .* already used in 04-own.toml"
    ):
        read_rate_book(tmp_path)


@pytest.mark.parametrize(("text", "message"), [("[[task", "not TOML"), ("rate = 1", "holds .* tables")])
def test_a_file_that_is_no_rate_book_is_named(tmp_path, text, message):
    (tmp_path / "broken.toml").write_text(text)

    with pytest.raises(BadRateBook, match=f"broken.toml.*{message}"):
        read_rate_book(tmp_path)


def test_an_empty_folder_is_refused(tmp_path):
    with pytest.raises(BadRateBook, match="no rate-book file"):
        read_rate_book(tmp_path)


@pytest.mark.django_db
def test_a_firm_gets_the_whole_starting_book_as_it_was_read():
    firm, tasks = make_firm(), read_rate_book()

    added = load_rate_book(firm=firm, tasks=tasks)

    assert added == len(tasks)
    held = get_rate_book(firm)
    assert [fields_of(task) for task in held.values()] == [fields_of(task) for task in tasks]


@pytest.mark.django_db
def test_loading_again_keeps_what_the_firm_changed():
    firm = make_firm()
    make_book(firm)
    change(firm, rate="12", rate_low="12")

    added = load_rate_book(firm=firm, tasks=read_rate_book())

    assert added == len(read_rate_book()) - 1
    assert get_rate_book(firm)["tile-floor-medium"].rate == 12


@pytest.mark.django_db
def test_the_rate_book_is_read_in_one_query(django_assert_num_queries):
    firm = make_firm()
    load_rate_book(firm=firm, tasks=read_rate_book())

    with django_assert_num_queries(1):
        get_rate_book(firm)


@pytest.mark.django_db
def test_tasks_are_listed_in_the_order_of_the_work():
    firm = make_firm()
    load_rate_book(firm=firm, tasks=reversed(read_rate_book()))

    places = [Phase(row.phase).position for row in list_tasks(firm)]

    assert places == sorted(places)


@pytest.mark.django_db
def test_a_change_keeps_who_when_before_and_after():
    firm = make_firm()
    make_book(firm)
    owner = make_member(firm)

    change(firm, by=owner, rate="12.5", rate_low="10", source="Our jobs, 2025")

    line = AuditLine.objects.of(firm).get()
    assert (line.action, line.subject, line.by, line.at) == (
        "change task",
        "task tile-floor-medium",
        owner,
        AT,
    )
    assert line.detail["before"] == {"rate": "14", "rate_low": "14", "source": "starting guess"}
    assert line.detail["after"] == {"rate": "12.5", "rate_low": "10", "source": "Our jobs, 2025"}


@pytest.mark.django_db
def test_saving_the_same_again_leaves_no_trace():
    firm = make_firm()
    make_book(firm)

    change(firm, rate="14.000")

    assert not AuditLine.objects.of(firm).exists()


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("changes", "field"),
    [
        ({"rate": "0"}, "rate"),
        ({"rate": "20"}, "rate_high"),
        ({"unit": "m2"}, "unit"),
        ({"code": "other"}, "code"),
        ({"conditions": {"occupied": "0.5"}}, "conditions"),
    ],
)
def test_a_wrong_change_is_refused_and_nothing_is_saved(changes, field):
    firm = make_firm()
    before = make_book(firm).to_engine()

    with pytest.raises(CannotChangeTask) as refused:
        change(firm, **changes)

    assert refused.value.problems[0].field == field
    assert get_rate_book(firm)["tile-floor-medium"] == before
    assert not AuditLine.objects.of(firm).exists()


@pytest.mark.django_db
def test_a_new_rate_does_not_borrow_the_old_source():
    firm = make_firm()
    make_book(firm)
    change(firm, source="Tile survey, 2024 edition")

    with pytest.raises(CannotChangeTask, match="source: Say where the new rate comes from"):
        change(firm, rate="13", rate_low="13")


@pytest.mark.django_db
def test_a_firm_cannot_change_another_firms_task():
    make_book(make_firm())

    with pytest.raises(CannotChangeTask, match="no task “tile-floor-medium”"):
        change(make_firm("Other Baths"), rate="14")


@pytest.mark.django_db
def test_a_task_of_the_firms_own_is_added_once():
    firm = make_firm()

    add_task(firm=firm, fields=FIELDS, by=None, at=AT)

    assert get_rate_book(firm)["set-sauna-bench"].rate == Decimal("0.5")
    with pytest.raises(CannotAddTask, match="code: The rate book already has"):
        add_task(firm=firm, fields=FIELDS, by=None, at=AT)
    assert AuditLine.objects.of(firm).count() == 1
