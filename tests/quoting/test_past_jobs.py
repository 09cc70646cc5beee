"""Past jobs come in from a table after a look and a yes, and go out again."""

import io
from decimal import Decimal
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Browser
from openpyxl import Workbook

from labour.engine.refusal import Refusal
from labour.firm.models import Firm, Role
from labour.ratebook.models import LearnedRates
from labour.work.models import Job, JobKind, WorkEntry
from quoting.closeout.models import JobCost
from quoting.past import services
from quoting.past.files import BadTable, Table, read_table
from quoting.past.models import PastTable
from tests.makers import AT, make_firm, make_member, make_task, make_worker
from tests.quoting.api_caller import fields_of, make_caller

pytestmark = pytest.mark.django_db

TABLE = (
    "Job,Date,Task,Qty,Unit,Hours,Worker,Price,Material cost\n"
    "Elm,2026-03-04,set-toilet,2,each,5.5,Sam Okafor,900,120.50\n"
    "Elm,2026-03-05,set-toilet; hang-door,1; 2,each,4,Someone,900,120.50\n"
    "Oak,2026-04-01,hang-door,3,each,31,,,\n"
    "Oak,2026-04-01,juggling,3,each,2,,,\n"
    "Oak,2026-04-02,hang-door,1,each,0,,,\n"
)


@pytest.fixture
def firm() -> Firm:
    made = make_firm()
    make_task(made)
    make_task(made, "hang-door", "Hang a door", rate="1")
    make_worker(made)
    return made


def bring(firm: Firm, text: str = TABLE) -> PastTable:
    return services.bring_table(firm=firm, name="Old book", table=read_table(text.encode()), at=AT, by=None)


def take(firm: Firm) -> PastTable:
    return services.take_table(firm=firm, table_id=bring(firm).pk, at=AT, by=None)


def test_nothing_is_taken_before_the_yes(firm: Firm) -> None:
    bring(firm)

    assert not Job.objects.of(firm).exists()


def test_good_rows_become_closed_jobs_with_tasks_entries_and_costs(firm: Firm) -> None:
    table = take(firm)

    elm, oak = Job.objects.of(firm).order_by("pk")
    assert [(job.kind, job.title, bool(job.closed_at)) for job in (elm, oak)] == [
        (JobKind.PAST, "Elm", True),
        (JobKind.PAST, "Oak", True),
    ]
    assert {(task.code, task.quantity, task.hours) for task in elm.tasks.all()} == {
        ("set-toilet", Decimal(3), Decimal(6)),
        ("hang-door", Decimal(2), Decimal(2)),
    }
    assert elm.past.price == Decimal(900)
    assert JobCost.objects.get(job=elm).amount == Decimal("120.50")
    assert [row["line"] for row in table.left] == [5, 6]


def test_a_known_worker_keeps_the_cost_of_the_hour_and_an_unknown_one_the_name(firm: Firm) -> None:
    take(firm)

    known, unknown, nobody = WorkEntry.objects.of(firm).order_by("pk")
    assert (known.worker.name, known.hour_cost) == ("Sam Okafor", Decimal("39.00"))
    assert (unknown.worker, unknown.note, unknown.parts.count()) == (None, "by Someone", 2)
    assert (nobody.worker, nobody.hours) == (None, Decimal(31))


def test_rates_learn_from_what_came_in(firm: Firm) -> None:
    take(firm)

    learned = LearnedRates.objects.of(firm).get()
    assert learned.jobs == 2


def test_the_same_table_is_not_taken_twice(firm: Firm) -> None:
    take(firm)

    with pytest.raises(services.CannotTakeTable, match="No row"):
        services.take_table(firm=firm, table_id=bring(firm).pk, at=AT, by=None)

    assert Job.objects.of(firm).count() == 2


def test_put_out_jobs_are_gone_and_the_table_can_be_taken_again(firm: Firm) -> None:
    table = take(firm)

    services.put_out_table(firm=firm, table_id=table.pk, at=AT, by=None)

    assert not Job.objects.of(firm).exists()
    assert not WorkEntry.objects.of(firm).exists()
    assert LearnedRates.objects.of(firm).get().jobs == 0
    services.take_table(firm=firm, table_id=table.pk, at=AT, by=None)
    assert Job.objects.of(firm).count() == 2


def test_words_are_matched_to_tasks_and_a_wrong_matching_is_refused(firm: Firm) -> None:
    table = bring(firm)
    asked: dict[str, Any] = {"firm": firm, "table_id": table.pk, "at": AT, "by": None}
    reading = {"columns": table.matching["columns"], "day_order": "day-first", "own_units": True}

    services.match_table(**asked, **reading, tasks={"juggling": "set-toilet"})

    with pytest.raises(Refusal) as refused:
        services.match_table(
            **asked,
            columns={"job": 0, "day": 0, "task": 99},
            day_order="now",
            own_units=False,
            tasks={"x": "y"},
        )
    assert {problem.field for problem in refused.value.problems} == {
        "columns.task", "columns.job", "columns.day", "tasks", "day_order",
    }  # fmt: skip
    table.refresh_from_db()
    assert table.matching["tasks"] == {"juggling": "set-toilet"}


def test_a_spreadsheet_gives_the_same_table() -> None:
    book = Workbook()
    book.active.append(["Job", "Hours"])
    book.active.append(["Elm", 5.5])
    book.active.append(["Oak", 4])
    file = io.BytesIO()
    book.save(file)

    assert read_table(file.getvalue()) == Table(("Job", "Hours"), (("Elm", "5.5"), ("Oak", "4")))


@pytest.mark.parametrize("text", ["a;b\n1;2\n", "a\tb\n1\t2\n", "\ufeffa,b\r\n1,2\r\n", "\n\na,b\n1,2\n"])
def test_text_tables_are_read_whatever_keeps_their_columns_apart(text: str) -> None:
    assert read_table(text.encode()) == Table(("a", "b"), (("1", "2"),))


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b"", "a row of headings"),
        (b"Job,Hours\n", "a row of headings"),
        (b"PK\x03\x04 no spreadsheet", "can not be opened"),
        (b"\x89PNG\0\0", "not a CSV"),
        (b"a," * 50 + b"\n1\n", "40 are the most"),
        (b"a\n" + b"1\n" * 5002, "more than 5,000"),
        (b"x" * 2_000_001, "2,000,000 is the most"),
    ],
)
def test_what_is_no_table_is_refused(content: bytes, reason: str) -> None:
    with pytest.raises(BadTable, match=reason):
        read_table(content)


def test_the_pages_lead_from_the_file_to_the_jobs(firm: Firm) -> None:
    browser = Browser()
    browser.force_login(make_member(firm, Role.OFFICE))
    file = SimpleUploadedFile("old.csv", TABLE.encode(), "text/csv")
    page = browser.post("/jobs/past/", {"name": "Old book", "file": file}, follow=True)
    address = page.redirect_chain[-1][0]

    shown = page.content.decode()
    taken = browser.post(f"{address}take/", follow=True).content.decode()

    assert "Yes, take 3 rows of 2 jobs" in shown
    assert "“juggling” is no task of the rate book" in shown
    assert "Taken in on" in taken
    assert "Hours are 0" in taken


def test_a_page_without_a_table_says_what_is_missing(firm: Firm) -> None:
    browser = Browser()
    browser.force_login(make_member(firm))

    answer = browser.post("/jobs/past/", {"name": "Old book", "text": ""})

    assert answer.status_code == 422
    assert "Choose a file, or paste the table." in answer.content.decode()


def test_programs_bring_match_take_and_put_out(firm: Firm) -> None:
    caller = make_caller(firm, Role.OFFICE)
    rows = [line.split(",") for line in TABLE.splitlines()]
    table = caller.do("post", "/past-tables", {"name": "Old book", "rows": rows})
    address = f"/past-tables/{table['id']}"
    reading = {name: table["matching"][name] for name in ("columns", "day_order")}
    matched = caller.do(
        "put", f"{address}/matching", reading | {"tasks": {"juggling": "hang-door"}, "own_units": False}
    )

    taken = caller.do("post", f"{address}/take")

    assert (table["good_rows"], table["unknown_tasks"]) == (3, ["juggling"])
    assert (matched["good_rows"], matched["unknown_tasks"]) == (4, [])
    assert taken["taken_at"] and [row["line"] for row in taken["left"]] == [6]
    assert fields_of(
        caller.refused("put", f"{address}/matching", reading | {"tasks": {}, "own_units": True})
    ) == [""]
    assert caller.do("post", f"{address}/put-out")["taken_at"] is None
    assert caller.do("delete", address) is None
    assert caller.get("/past-tables") == []
