"""The daily log: what is written down, what is refused, what is asked about."""

from datetime import timedelta
from decimal import Decimal

import pytest

from labour.firm.models import AuditLine
from labour.work.log_words import CannotLogWork, NotSure, PartWords
from labour.work.logging import correct_entry, strike_entry
from labour.work.models import Job, JobKind, WorkEntry
from tests.labour.log_cast import NOW, TODAY, LogCast, add_more, clock, make_cast, refusal_of
from tests.log_makers import make_entry, make_job, make_planned
from tests.makers import make_firm

pytestmark = pytest.mark.django_db


@pytest.fixture
def cast() -> LogCast:
    return make_cast()


def test_a_mixed_day_keeps_its_tasks_amounts_conditions_and_the_cost_of_the_hour(cast: LogCast) -> None:
    parts = (
        PartWords(cast.toilets.pk, quantity=Decimal("3.005")),
        PartWords(cast.flanges.pk, percent=Decimal(50)),
    )

    made = cast.log(cast.words("7.5", *parts, note=" Wall was wet ", conditions=("occupied",)))

    kept = WorkEntry.objects.get(pk=made.pk)
    assert [(part.task, part.quantity, part.percent) for part in kept.parts.order_by("task__position")] == [
        (cast.toilets, Decimal("3.01"), None),
        (cast.flanges, None, Decimal(50)),
    ]
    # 31.17 × 1.225 = 38.18325
    assert (kept.hours, kept.hour_cost, kept.note) == (Decimal("7.50"), Decimal("38.18"), "Wall was wet")
    assert (kept.conditions, kept.logged_by, kept.logged_at) == (["occupied"], cast.owner, NOW)
    line = AuditLine.objects.get(action="log work")
    assert (line.detail["hours"], "31.17" in str(line.detail)) == ("7.5", False)


@pytest.mark.parametrize("hours", ["0", "-1", "0.004", "24.01", "NaN", "Infinity"])
def test_hours_that_no_day_has_are_refused(cast: LogCast, hours: str) -> None:
    assert set(refusal_of(cast, CannotLogWork, cast.words(hours))) == {"hours"}


def test_a_day_may_be_24_hours_and_no_more_over_all_jobs(cast: LogCast) -> None:
    other = make_job(cast.firm, "J-0002")
    make_entry(other, cast.sam, "20", on=TODAY)

    found = refusal_of(cast, CannotLogWork, cast.words("4.01"), sure=True)

    assert "at most 4 are left" in found["hours"]
    assert cast.log(cast.words("4"), sure=True).hours == 4


def test_clock_times_of_one_worker_may_touch_and_not_overlap(cast: LogCast) -> None:
    make_entry(make_job(cast.firm, "J-0002"), cast.sam, "4", on=TODAY, **clock("07:00", "11:00"))

    found = refusal_of(cast, CannotLogWork, cast.words("2", **clock("10:59", "13:00")))

    assert found["starts"] == "Sam Okafor is down for 07:00 to 11:00 on J-0002 already."
    assert cast.log(cast.words("2", worker_id=cast.eve.pk, **clock("10:59", "13:00")))
    assert cast.log(cast.words("2", **clock("11:00", "13:00")))


@pytest.mark.parametrize(
    ("hours", "times", "field"),
    [
        ("2", ("11:00", "11:00"), "ends"),
        ("2", ("23:00", "01:00"), "ends"),
        ("2.01", ("07:00", "09:00"), "hours"),
    ],
)
def test_clock_times_that_can_not_be_are_refused(
    cast: LogCast, hours: str, times: tuple[str, str], field: str
) -> None:
    assert set(refusal_of(cast, CannotLogWork, cast.words(hours, **clock(*times)))) == {field}


def test_one_clock_time_alone_is_refused(cast: LogCast) -> None:
    starts = clock("07:00", "08:00") | {"ends": None}

    assert set(refusal_of(cast, CannotLogWork, cast.words("1", **starts))) == {"ends"}


def test_tomorrow_is_refused_and_today_is_where_the_firm_is(cast: LogCast) -> None:
    found = refusal_of(cast, CannotLogWork, cast.words(on=TODAY + timedelta(days=1)))

    assert set(found) == {"on"}
    # 4 in the morning of the 11th in London is still the 10th in New York.
    found = refusal_of(
        cast, CannotLogWork, cast.words(on=TODAY + timedelta(days=1)), at=NOW + timedelta(hours=7)
    )
    assert set(found) == {"on"}


def test_a_day_before_the_job_was_agreed_is_refused_unless_it_is_a_past_job(cast: LogCast) -> None:
    words = cast.words(on=TODAY - timedelta(days=9))

    assert set(refusal_of(cast, CannotLogWork, words)) == {"on"}
    Job.objects.update(kind=JobKind.PAST)
    assert cast.log(words)


def test_a_closed_job_takes_no_entry_no_correction_no_striking_and_no_more_work(cast: LogCast) -> None:
    made = cast.log()
    Job.objects.update(closed_at=NOW)

    assert "is closed" in refusal_of(cast, CannotLogWork, cast.words("1"))[""]
    asked = cast.change(made.pk)
    with pytest.raises(CannotLogWork, match="is closed"):
        strike_entry(**asked)
    with pytest.raises(CannotLogWork, match="is closed"):
        correct_entry(entry=cast.words("7"), **asked)
    with pytest.raises(CannotLogWork, match="is closed"):
        add_more(cast)


def test_unknown_twice_named_and_withdrawn_tasks_are_refused(cast: LogCast) -> None:
    theirs = make_planned(make_job(make_firm("Mill Street"))).pk
    cast.flanges.is_withdrawn = True
    cast.flanges.save()
    parts = (
        PartWords(theirs),
        PartWords(cast.flanges.pk),
        PartWords(cast.toilets.pk),
        PartWords(cast.toilets.pk),
    )

    found = refusal_of(cast, CannotLogWork, cast.words("8", *parts))

    assert set(found) == {"parts[0].task", "parts[1].task", "parts[3].task"}


@pytest.mark.parametrize(
    ("quantity", "percent", "field"),
    [
        ("-0.01", None, "quantity"),
        (None, "100.5", "percent"),
        ("NaN", None, "quantity"),
        ("1", "10", "percent"),
    ],
)
def test_amounts_that_can_not_be_are_refused(
    cast: LogCast, quantity: str | None, percent: str | None, field: str
) -> None:
    amounts = [None if text is None else Decimal(text) for text in (quantity, percent)]

    found = refusal_of(cast, CannotLogWork, cast.words("8", PartWords(cast.toilets.pk, *amounts)))

    assert set(found) == {f"parts[0].{field}"}


def test_unknown_conditions_and_long_notes_are_refused(cast: LogCast) -> None:
    found = refusal_of(cast, CannotLogWork, cast.words(note="x" * 501, conditions=("haunted",)))

    assert set(found) == {"note", "conditions"}


def test_a_day_over_12_hours_is_asked_about(cast: LogCast) -> None:
    cast.log(cast.words("8"))

    assert "makes 12.01 hours" in refusal_of(cast, NotSure, cast.words("4.01"))["hours"]
    assert cast.log(cast.words("4"))
    assert cast.log(cast.words("0.01"), sure=True)


def test_a_quantity_past_one_and_a_half_times_the_plan_is_asked_about(cast: LogCast) -> None:
    def some(quantity: str) -> PartWords:
        return PartWords(cast.toilets.pk, Decimal(quantity))

    cast.log(cast.words("1", some("9")))

    found = refusal_of(cast, NotSure, cast.words("1", some("6.01")))
    assert found == {"parts[0].quantity": "makes 15.01 of Set a toilet; 10 each were planned."}
    assert cast.log(cast.words("1", some("6")))
    assert cast.log(cast.words("1", some("6.01")), sure=True)


def test_an_old_day_and_no_task_are_asked_about(cast: LogCast) -> None:
    Job.objects.update(kind=JobKind.PAST)
    words = cast.words(on=TODAY - timedelta(days=31))

    assert set(refusal_of(cast, NotSure, words)) == {"on"}
    assert cast.log(words, sure=True)
    bare = cast.words().__class__(cast.sam.pk, TODAY, Decimal(1))
    assert set(refusal_of(cast, NotSure, bare)) == {"parts"}
    assert not cast.log(bare, sure=True).parts.exists()


def test_the_same_ticket_writes_once_however_late_it_comes(cast: LogCast) -> None:
    first = cast.log(ticket="phone-1")

    again = cast.log(ticket="phone-1", at=NOW + timedelta(days=3))

    assert again == first
    assert WorkEntry.objects.count() == 1
