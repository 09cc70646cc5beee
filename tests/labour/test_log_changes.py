"""Who writes into the daily log; corrections, striking, the same again, and work that came up."""

from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest

from labour.firm.models import AuditLine, Role
from labour.work.adding import CannotPlanMore
from labour.work.log_words import CannotLogWork, PartWords
from labour.work.logging import correct_entry, strike_entry
from labour.work.models import Job, JobKind
from labour.work.repeating import repeat_entry
from tests.labour.log_cast import NOW, TODAY, LogCast, add_more, make_cast, refusal_of
from tests.makers import make_firm, make_member, make_worker

pytestmark = pytest.mark.django_db


@pytest.fixture
def cast() -> LogCast:
    return make_cast()


def test_the_crew_writes_its_own_hours_of_the_last_14_days(cast: LogCast) -> None:
    Job.objects.update(kind=JobKind.PAST)

    assert cast.log(cast.words("1", worker_id=None), by=cast.crew).worker == cast.sam
    assert cast.log(cast.words("1", on=TODAY - timedelta(days=14)), by=cast.crew)
    found = refusal_of(cast, CannotLogWork, cast.words(worker_id=cast.eve.pk), by=cast.crew)
    assert "hours of Sam Okafor" in found["worker"]
    found = refusal_of(cast, CannotLogWork, cast.words(on=TODAY - timedelta(days=15)), by=cast.crew)
    assert set(found) == {"on"}


def test_a_crew_log_in_without_a_worker_chooses_and_changes_what_it_wrote(cast: LogCast) -> None:
    phone = make_member(cast.firm, Role.CREW, "phone@example.com")
    made = cast.log(cast.words(worker_id=cast.eve.pk), by=phone)
    others = cast.log()
    asked: dict[str, Any] = {"firm": cast.firm, "why": "Slip", "at": NOW, "by": phone}

    assert set(refusal_of(cast, CannotLogWork, cast.words(worker_id=None), by=phone)) == {"worker"}
    assert strike_entry(entry_id=made.pk, **asked).struck_at
    with pytest.raises(CannotLogWork, match="your own entries"):
        strike_entry(entry_id=others.pk, **asked)


def test_whoever_left_keeps_the_entries_and_is_not_chosen_anew(cast: LogCast) -> None:
    made = cast.log(cast.words(worker_id=cast.eve.pk))
    cast.eve.is_active = False
    cast.eve.save()

    found = refusal_of(cast, CannotLogWork, cast.words(worker_id=cast.eve.pk))
    assert "no longer works here" in found["worker"]
    asked = cast.change(made.pk)
    assert correct_entry(entry=cast.words("7", worker_id=cast.eve.pk), **asked).worker == cast.eve


def test_workers_of_another_firm_do_not_exist(cast: LogCast) -> None:
    stranger = make_worker(make_firm("Mill Street"))

    assert set(refusal_of(cast, CannotLogWork, cast.words(worker_id=stranger.pk))) == {"worker"}


def test_a_correction_replaces_the_entry_and_keeps_it_struck(cast: LogCast) -> None:
    old = cast.log(cast.words("12"))
    cast.sam.wage = Decimal(99)
    cast.sam.save()
    asked: dict[str, Any] = {"firm": cast.firm, "entry_id": old.pk, "at": NOW, "by": cast.crew}

    new = correct_entry(entry=cast.words("11.5"), why=" Left early ", **asked)

    old.refresh_from_db()
    assert (new.replaces, new.hours, new.hour_cost) == (old, Decimal("11.50"), old.hour_cost)
    assert (old.struck_at, old.struck_by, old.struck_why, old.hours) == (
        NOW,
        cast.crew,
        "Left early",
        Decimal(12),
    )
    assert AuditLine.objects.filter(action="correct entry", by=cast.crew).count() == 1
    with pytest.raises(CannotLogWork, match="already"):
        correct_entry(entry=cast.words("11"), why="Again", **asked)


def test_a_refused_correction_leaves_the_entry_standing(cast: LogCast) -> None:
    old = cast.log()
    asked: dict[str, Any] = {"firm": cast.firm, "entry_id": old.pk, "at": NOW, "by": cast.owner}

    with pytest.raises(CannotLogWork):
        correct_entry(entry=cast.words("25"), why="Slip", **asked)
    with pytest.raises(CannotLogWork, match="why"):
        correct_entry(entry=cast.words("7"), why="  ", **asked)

    old.refresh_from_db()
    assert old.struck_at is None


def test_a_struck_entry_no_longer_counts_in_the_day(cast: LogCast) -> None:
    made = cast.log(cast.words("12"))

    strike_entry(firm=cast.firm, entry_id=made.pk, why="Wrong job", at=NOW, by=cast.owner)

    assert cast.log(cast.words("12"))
    assert AuditLine.objects.get(action="strike entry").detail["why"] == "Wrong job"


def test_the_same_again_takes_hours_tasks_and_conditions_and_no_amounts(cast: LogCast) -> None:
    part = PartWords(cast.toilets.pk, Decimal(3))
    words = cast.words("7.5", part, on=TODAY - timedelta(days=1), conditions=("occupied",))
    old = cast.log(words)

    made = repeat_entry(firm=cast.firm, entry_id=old.pk, at=NOW, by=cast.crew, ticket="tap")

    assert (made.on, made.hours, made.worker, made.conditions) == (
        TODAY,
        Decimal("7.5"),
        cast.sam,
        ["occupied"],
    )
    assert [(part.task, part.quantity) for part in made.parts.all()] == [(cast.toilets, None)]


def test_work_that_came_up_is_planned_with_the_hours_of_the_rate_book(cast: LogCast) -> None:
    cast.toilets.conditions = ["occupied"]
    cast.toilets.save()

    made = add_more(cast)

    # Half a piece an hour.
    assert (made.source, made.quantity, made.rate, made.position) == ("log", Decimal(2), Decimal("0.5"), 3)
    assert made.hours >= 4 and made.low < made.hours < made.high
    assert made.conditions == ["occupied"]
    assert cast.log(cast.words("4", PartWords(made.pk)))


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"room": " "}, "room"), ({"room": "x" * 81}, "room"), ({"code": "no-such"}, "code"),
        ({"quantity": Decimal(0)}, "quantity"), ({"quantity": Decimal("NaN")}, "quantity"),
    ],
)  # fmt: skip
def test_work_that_can_not_be_planned_is_refused(cast: LogCast, wrong: dict[str, Any], field: str) -> None:
    with pytest.raises(CannotPlanMore) as refusal:
        add_more(cast, **wrong)

    assert [problem.field for problem in refusal.value.problems] == [field]
    assert cast.job.tasks.count() == 2
