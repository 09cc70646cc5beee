"""What an approved change order does to its job: contract sum, payments, planned tasks, finish."""

from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal

from django.db.models import Max

from labour.work.services import TaskPlan, plan_tasks, withdraw_tasks
from labour.work.stating import state_hours
from quoting.agree.contracts import list_own_trades
from quoting.agree.models import Contract, ContractPart, PartKind, ScheduleRow
from quoting.agree.payments import drop_payment
from quoting.change.models import ChangeOrder
from quoting.engine.agreed import OPTION_KEY
from quoting.engine.billing.amounts import Amounts, add_up
from quoting.engine.billing.ledger import Ledger, add_change
from quoting.engine.billing.schedule import Due, plan_after_change
from quoting.engine.hours_view import planned_hours
from quoting.engine.working_days import add_working_days
from quoting.offer.models import Quote
from quoting.price.queries import get_price_settings


def extend_contract(contract: Contract, change: ChangeOrder, at: datetime) -> None:
    """Take the change into the locked contract. Raise CannotChangeContract below zero."""
    amounts = Amounts.from_json(change.figures["firm_view"]["amounts"])
    add_change(_ledger_of(contract), amounts)
    _add_part(contract, change, amounts)
    _replan_payments(contract, change)
    quote = contract.acceptance.quote
    withdraw_tasks(job=contract.job, source=quote.number, works=_taken_back(quote, change))
    plan_tasks(job=contract.job, source=change.number, tasks=_tasks_of(change))
    own = list_own_trades(get_price_settings(contract.firm))
    state_hours(job=contract.job, at=at, own_trades=own)
    _move_finish(contract, change)


def _ledger_of(contract: Contract) -> Ledger:
    """What was agreed so far; bills do not matter to whether the contract may change."""
    parts = [(part.kind, Amounts.from_json(part.amounts)) for part in contract.parts.all()]
    return Ledger(
        quote=add_up(amounts for kind, amounts in parts if kind != PartKind.CHANGE),
        changes=tuple(amounts for kind, amounts in parts if kind == PartKind.CHANGE),
        bills=(),
    )


def _add_part(contract: Contract, change: ChangeOrder, amounts: Amounts) -> None:
    last = contract.parts.aggregate(last=Max("position"))["last"] or 0
    label = f"{change.number} {change.title}"[:200]
    ContractPart.objects.create(
        contract=contract,
        position=last + 1,
        kind=PartKind.CHANGE,
        label=label,
        amounts=amounts.to_json(),
        items=[{"key": change.number, "label": label, "amount": str(amounts.total)}],
        total=amounts.total,
    )


def _replan_payments(contract: Contract, change: ChangeOrder) -> None:
    """Spread over the payments to come, or apart. Payments keep their rows; billed ones stay as they are."""
    if not change.total:
        return
    rows = list(contract.schedule.order_by("position"))
    dues = [Due(row.name, row.amount, is_deposit=row.is_deposit, is_billed=row.is_billed) for row in rows]
    name = f"Change order {change.number}"
    planned = plan_after_change(dues, change.total, name, change.billed_apart)
    spare = [row for row in rows if not row.is_billed]
    last = max((row.position for row in rows), default=0)
    for due in (due for due in planned if not due.is_billed):
        row = next((row for row in spare if row.name == due.name), None)
        if row is None:
            last += 1
            ScheduleRow.objects.create(
                contract=contract, position=last, name=due.name, amount=due.amount, is_deposit=due.is_deposit
            )
            continue
        spare.remove(row)
        row.amount = due.amount
        row.save(update_fields=["amount"])
    for row in spare:
        drop_payment(row)


def _taken_back(quote: Quote, change: ChangeOrder) -> Iterator[tuple[str, str, Decimal]]:
    """Room, code and quantity of the quote's work that the change credits; an option with all its work."""
    keys = {line["key"] for line in change.lines if line["kind"] == "credit"}
    view = quote.figures["firm_view"]
    works = [line for line in view["lines"] if line["key"] in keys]
    for option in view["options"]:
        if f"{OPTION_KEY}{option['name']}" in keys:
            works += option.get("works", ())
    for work in works:
        if work["hours"] is not None:
            yield work["room"], work["code"], Decimal(work["quantity"])


def _tasks_of(change: ChangeOrder) -> Iterator[TaskPlan]:
    for line in change.figures["firm_view"]["lines"]:
        task = line["task"]
        if task is not None:
            yield TaskPlan(
                room=line["room"],
                code=task["code"],
                name=task["name"],
                phase=task["phase"],
                quantity=Decimal(line["quantity"]),
                unit=line["unit"],
                **planned_hours(task),
                licence=task["licence"],
                cure_hours=Decimal(task["cure_hours"]),
                conditions=tuple(task["conditions"]),
            )


def _move_finish(contract: Contract, change: ChangeOrder) -> None:
    job = contract.job
    if job.finish_on is not None and change.days:
        job.finish_on = add_working_days(job.finish_on, change.days)
        job.save(update_fields=["finish_on"])
