"""A job is bought for, closed with its figures frozen, and opened again, through the services."""

from decimal import Decimal

import pytest
from django.http import Http404

from labour.engine.refusal import Refusal
from labour.firm.models import AuditLine, Worker
from labour.ratebook.models import TaskRow
from labour.work.models import WorkEntry
from quoting.closeout.exports import closeout_csv
from quoting.closeout.models import Closeout
from quoting.closeout.queries import closeout_figures, findings_of, list_open_matters
from quoting.closeout.services import (
    CannotChangeCosts,
    CannotCloseOut,
    CannotReopen,
    reopen,
    strike_cost,
)
from quoting.price.findings import count_found
from tests.makers import make_firm
from tests.quoting.change_cast import work
from tests.quoting.change_job import approve, raise_change, send_change
from tests.quoting.closeout_cast import END, buy, close, make_worked_job, reread

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


def test_profit_is_worked_out_as_by_hand() -> None:
    contract, _ = make_worked_job()
    buy(contract, "455.18")
    buy(contract, "-45.86", note="A box given back")
    buy(contract, "380.00", "subcontract")

    profit = close(contract).figures["profit"]

    # Labour: 10.59 h and 13 h of Sam at 40.00, 5 h of Kim at 60.00 = 423.60 + 520.00 + 300.00 = 1243.60.
    # Estimated: labour 1187.50, material 409.32, plumber 400.00, disposal 300, permit 120, allowances 440.
    assert profit["estimated"]["cost"] == "2856.82"
    assert profit["estimated"]["profit"] == "1159.95"  # 4328.65 − 2856.82 − 311.88
    assert profit["actual"]["cost"] == "2032.92"  # 1243.60 + 409.32 + 380.00
    assert profit["actual"]["profit"] == "1983.85"
    assert profit["actual"]["margin"] == "45.83"


def test_parts_of_labour_add_up_to_what_is_over() -> None:
    contract, _ = make_worked_job()

    figures = close(contract).figures

    labour = figures["labour"]
    assert (labour["estimated_hours"], labour["actual_hours"], labour["over_hours"]) == (
        *("23.75", "28.59"),
        "4.84",
    )
    assert sum(map(Decimal, labour["hours"].values())) == Decimal("4.84")
    # 1243.60 − 1187.50; the wage part is 1243.60 − 28.59 h × 50.00.
    assert sum(map(Decimal, labour["cost"].values())) == Decimal("56.10")
    assert labour["cost"]["wage"] == "-185.90"
    for task in figures["tasks"]:
        assert sum(map(Decimal, task["hours"].values())) == Decimal(task["over_hours"])
        assert sum(map(Decimal, task["cost"].values())) == Decimal(task["over_cost"])


def test_more_floor_than_planned_is_the_part_of_the_quantity() -> None:
    contract, _ = make_worked_job()

    figures = close(contract).figures

    # 33 sq ft instead of 27.5: 0.50 + 2.75 × 1.2 = 3.80 h, 0.55 more than the 3.25 estimated.
    floor = next(task for task in figures["tasks"] if task["code"] == "tile-floor")
    assert floor["hours"]["quantity"] == "0.55"
    assert floor["cost"]["quantity"] == "27.50"
    assert figures["bought_in"] == [{"room": "Hall bath", "name": "Set the shower valve"}]


def test_the_tasks_that_cost_most_over_are_told_in_sentences() -> None:
    contract, _ = make_worked_job()

    most = close(contract).figures["most_over"]

    # Floor: 300.00 − 162.50. Walls: 520.00 − 495.50.
    assert [row["over_cost"] for row in most] == ["137.50", "24.50"]
    assert most[0]["words"].startswith("Tile the floor, Hall bath: 1.75 h more than estimated")


def test_a_condition_seen_later_that_slows_the_task_has_its_part() -> None:
    contract, _ = make_worked_job()
    TaskRow.objects.of(contract.firm).filter(code="tile-floor").update(conditions={"old_house": "1.2"})
    WorkEntry.objects.filter(parts__task__code="tile-floor").update(conditions=["old_house"])

    figures = close(contract).figures

    # 3.80 h × 1.2 = 4.56 h.
    floor = next(task for task in figures["tasks"] if task["code"] == "tile-floor")
    assert floor["hours"]["condition"] == "0.76"
    assert len(floor["later"]) == 1


def test_later_wages_rates_and_hours_do_not_move_a_closeout() -> None:
    contract, _ = make_worked_job()
    kept = close(contract).figures

    Worker.objects.of(contract.firm).update(wage=Decimal(99))
    TaskRow.objects.of(contract.firm).update(rate=Decimal(1), rate_low=Decimal(1), rate_high=Decimal(1))
    WorkEntry.objects.of(contract.firm).update(hours=Decimal(1))

    assert closeout_figures(contract, END) == kept


def test_an_approved_change_is_in_the_estimate() -> None:
    contract, _ = make_worked_job()
    before = closeout_figures(contract, END)
    change = approve(send_change(contract, work()))
    contract.refresh_from_db()

    after = closeout_figures(contract, END)

    # 12 sq ft ÷ 5 an hour = 2.40 h × 50.00 = 120.00 of labour.
    estimates = [
        {row["category"]: Decimal(row["estimated"]) for row in one["categories"]} for one in (before, after)
    ]
    assert estimates[1]["labour"] - estimates[0]["labour"] == Decimal("120.00")
    net = Decimal(after["contract"]["net"]) - Decimal(before["contract"]["net"])
    assert net == Decimal(change.figures["client_view"]["subtotal"])


def test_closing_records_what_was_found_and_learns() -> None:
    contract, _ = make_worked_job()

    close(contract)

    counted = count_found(contract.firm)
    assert (counted["subfloor-rot"].opened, counted["subfloor-rot"].costs) == (1, (410.0,))
    assert counted["weak-joists"].found == 0
    assert reread(contract).closed_at == END


def test_what_changes_were_for_is_what_is_supposed_to_have_been_found() -> None:
    contract, _ = make_worked_job()
    approve(send_change(contract, work()))

    supposed = {one.kind: one for one in findings_of(contract)}

    assert supposed["subfloor-rot"].was_found
    assert supposed["subfloor-rot"].cost
    assert not supposed["weak-joists"].was_found


@pytest.mark.parametrize("make", [raise_change, send_change])
def test_a_change_order_that_waits_keeps_the_job_open(make) -> None:
    contract, _ = make_worked_job()
    make(contract)

    with pytest.raises(CannotCloseOut) as refused:
        close(contract)

    assert refused.value.problems[0].field == "changes"
    assert reread(contract).closed_at is None


def test_what_is_open_is_told_and_does_not_keep_the_job_open() -> None:
    contract, _ = make_worked_job()
    WorkEntry.objects.filter(parts__task__code="run-base").delete()

    matters = list_open_matters(contract)

    assert [(matter.what, matter.blocks) for matter in matters] == [("to-bill", False), ("hours", False)]
    assert matters[0].amount == Decimal("4397.84")


def test_a_closed_job_is_not_closed_again_and_takes_no_costs() -> None:
    contract, _ = make_worked_job()
    cost = buy(contract)
    close(contract)

    with pytest.raises(CannotCloseOut):
        close(contract)
    with pytest.raises(CannotChangeCosts):
        buy(contract)
    with pytest.raises(CannotChangeCosts):
        strike_cost(firm=contract.firm, job_id=contract.job_id, cost_id=cost.pk, at=END, by=None)


def test_a_reopened_job_keeps_its_figures_in_the_history() -> None:
    contract, owner = make_worked_job()
    figures = close(contract).figures

    reopen(firm=contract.firm, job_id=contract.job_id, why="A receipt came late.", at=END, by=owner)

    assert reread(contract).closed_at is None
    assert not Closeout.objects.exists()
    line = AuditLine.objects.of(contract.firm).get(action="reopen closeout")
    assert (line.detail["why"], line.detail["figures"]) == ("A receipt came late.", figures)
    contract.refresh_from_db()
    assert close(contract).figures["profit"] == figures["profit"]


def test_a_job_is_reopened_only_closed_and_with_a_reason() -> None:
    contract, _ = make_worked_job()
    asked = {"firm": contract.firm, "job_id": contract.job_id, "at": END, "by": None}

    with pytest.raises(CannotReopen):
        reopen(why="Late", **asked)
    close(contract)
    with pytest.raises(CannotReopen) as refused:
        reopen(why="  ", **asked)

    assert refused.value.problems[0].field == "why"


def test_a_wrong_quantity_or_finding_closes_nothing() -> None:
    contract, _ = make_worked_job()
    task = contract.job.tasks.get(code="tile-floor")

    with pytest.raises(Refusal):
        close(contract, {task.pk: Decimal(-1)})

    assert reread(contract).closed_at is None
    assert not count_found(contract.firm)


def test_another_firm_has_no_such_job() -> None:
    contract, _ = make_worked_job()
    contract.firm = make_firm("Other Mill")

    with pytest.raises(Http404):
        close(contract)


def test_hours_that_name_no_task_and_cost_nothing_are_told() -> None:
    contract, _ = make_worked_job()
    entry = WorkEntry.objects.filter(parts__task__code="clean").get()
    entry.parts.all().delete()
    WorkEntry.objects.filter(pk=entry.pk).update(hour_cost=None)

    figures = close(contract).figures

    assert figures["tasks"][-1]["name"] == "Hours on no task"
    assert figures["labour"]["uncosted_hours"] == "2.50"
    assert figures["labour"]["actual_hours"] == "28.59"


def test_the_csv_has_every_task_and_every_category() -> None:
    contract, _ = make_worked_job()
    buy(contract)

    text = closeout_csv(close(contract).figures)

    rows = text.splitlines()
    assert sum(row.startswith("task,") for row in rows) == 7
    assert "cost,,Material,material,,,,,,,,,,,409.32,400.00,-9.32,,," in rows
