"""The figures of a closeout as text: frozen when the job is closed, shown and exported from there.

Comes in: the contract with everything that was planned, logged, bought and found. Goes out: JSON with
decimals as text.
"""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.utils import timezone

from labour.engine.vocabulary import CONDITIONS
from labour.engine.why import Why
from labour.learn.queries import list_proposals_of
from labour.work.models import Job
from quoting.agree.contracts import list_own_trades
from quoting.agree.models import Contract
from quoting.bill.queries import get_account
from quoting.change.models import ChangeStatus
from quoting.closeout.bought import sum_costs
from quoting.closeout.worked import Worked, WorkedTask, read_worked
from quoting.documents.letterhead import letterhead_of
from quoting.engine.billing.amounts import Amounts, add_up
from quoting.engine.closing import LabourReckoned, Profit, Reckoned, reckon_labour
from quoting.engine.closing_words import sentence_for
from quoting.engine.estimated_costs import EstimatedCosts, estimated_costs
from quoting.engine.pricing.money import ZERO
from quoting.engine.pricing.values import Category
from quoting.engine.risk.kinds import KIND_BY_CODE
from quoting.price.models import ConcealedFinding
from quoting.price.queries import get_price_settings

_MOST_SENTENCES = 5
_HOURS = ("quantity", "condition", "house", "efficiency")
_COST = ("quantity", "efficiency", "wage")


def figures_of(contract: Contract, at: datetime) -> dict[str, Any]:
    """All figures of the job. at: the moment it is closed, or looked at while it is open."""
    job, settings = contract.job, get_price_settings(contract.firm)
    estimated = estimate_of(contract)
    worked = read_worked(job, own_trades=list_own_trades(settings), at=at)
    labour_cost = estimated.costs.get(Category.LABOUR, ZERO)
    labour = reckon_labour([one.done for one in worked.tasks], labour_cost)
    categories = _categories(contract, estimated, labour)
    return {
        "firm": letterhead_of(contract.firm),
        "job": _job(contract, at),
        "contract": _contract(contract),
        "profit": _profit(contract, estimated, categories) | {"wanted_margin": str(settings.wanted_margin)},
        "categories": categories,
        "labour": _labour(labour, worked),
        "stated": _stated(job, labour.actual_hours),
        "tasks": [_task(*pair) for pair in zip(worked.tasks, labour.tasks, strict=True)],
        "bought_in": [{"room": task.room, "name": task.name} for task in worked.bought],
        "most_over": _sentences(worked, labour),
        "findings": _findings(job),
        "proposals": _proposals(job),
    }


def estimate_of(contract: Contract) -> EstimatedCosts:
    """What the contract was estimated to cost: its quote with the options taken, and approved changes."""
    quote, options = contract.acceptance.quote, contract.acceptance.options
    approved = contract.changes.filter(status=ChangeStatus.APPROVED).order_by("place")
    views = [change.figures["firm_view"] for change in approved]
    return estimated_costs(quote.figures["firm_view"], options, views)


def _job(contract: Contract, at: datetime) -> dict[str, str]:
    job = contract.job
    names = ("number", "title", "client_name", "address")
    return {name: getattr(job, name) for name in names} | {
        "agreed_on": timezone.localdate(contract.agreed_at).isoformat(),
        "closed_on": timezone.localdate(at).isoformat() if job.closed_at else "",
    }


def _contract(contract: Contract) -> dict[str, str]:
    account = get_account(contract)
    names = ("quote_total", "changes", "contract_sum", "billed", "credited", "paid", "owed", "to_bill")
    return {"net": str(_net(contract))} | {name: str(getattr(account, name)) for name in names}


def _net(contract: Contract) -> Decimal:
    return add_up(Amounts.from_json(part.amounts) for part in contract.parts.all()).net


def _categories(
    contract: Contract, estimated: EstimatedCosts, labour: LabourReckoned
) -> list[dict[str, str]]:
    bought = sum_costs(contract.job)
    rows = []
    for category in Category:
        planned = estimated.costs.get(category, ZERO)
        actual = labour.actual_cost if category is Category.LABOUR else bought.get(category, ZERO)
        if planned or actual:
            name = {"category": category.value, "label": category.value.capitalize()}
            sums = {"estimated": planned, "actual": actual, "over": actual - planned}
            rows.append(name | {key: str(amount) for key, amount in sums.items()})
    return rows


def _profit(
    contract: Contract, estimated: EstimatedCosts, categories: Sequence[dict[str, str]]
) -> dict[str, Any]:
    sums = {name: sum((Decimal(row[name]) for row in categories), ZERO) for name in ("estimated", "actual")}
    net = _net(contract)
    return {"contingency": str(estimated.contingency)} | {
        name: _profit_row(Profit(net, cost, estimated.overhead)) for name, cost in sums.items()
    }


def _profit_row(profit: Profit) -> dict[str, Any]:
    worked = f"{profit.net} − {profit.cost} − {profit.overhead} = {profit.profit}"
    why = Why("contract sum before tax − costs − overhead as priced", worked, "contract, log, receipts")
    names = ("net", "cost", "overhead", "profit", "margin")
    return {name: str(getattr(profit, name)) for name in names} | {"why": why.texts()}


def _labour(labour: LabourReckoned, worked: Worked) -> dict[str, Any]:
    names = ("estimated_hours", "actual_hours", "estimated_cost", "actual_cost")
    return {
        **{name: str(getattr(labour, name)) for name in names},
        "over_hours": str(labour.hours.total),
        "over_cost": str(labour.cost.total),
        "hours": {name: str(getattr(labour.hours, name)) for name in _HOURS},
        "cost": {name: str(getattr(labour.cost, name)) for name in _COST},
        "house_factor": str(labour.house),
        "uncosted_hours": str(worked.uncosted),
    }


def _stated(job: Job, actual: Decimal) -> dict[str, Any] | None:
    """Whether the job's hours lay in the range that was stated; None where none was stated."""
    if job.stated_low is None or job.stated_high is None:
        return None
    names = ("low", "low50", "hours", "high50", "high")
    ranges = {name: getattr(job, f"stated_{name}") for name in names}
    shown = {name: None if hours is None else str(hours) for name, hours in ranges.items()}
    inside = job.stated_low <= actual <= job.stated_high
    return shown | {"actual": str(actual), "is_inside": inside, "known_jobs": job.stated_from}


def _task(worked: WorkedTask, reckoned: Reckoned) -> dict[str, Any]:
    work, done = worked.work, worked.done
    hours = reckoned.hours
    return {
        "room": work.task.room if work else "",
        "code": work.task.code if work else "",
        "name": work.task.name if work else "Hours on no task",
        "phase": work.task.phase if work else "",
        "unit": work.task.unit if work else "",
        "planned_quantity": str(work.planned) if work else "",
        "done_quantity": str(work.done) if work else "",
        "taken": work.taken.value if work else "",
        "estimated_hours": str(done.estimated),
        "actual_hours": str(done.actual),
        "over_hours": str(hours.total),
        "hours": {name: str(getattr(hours, name)) for name in _HOURS},
        "later": [CONDITIONS.get(name, name) for name in worked.later],
        "estimated_cost": str(reckoned.estimated_cost),
        "actual_cost": str(reckoned.actual_cost),
        "over_cost": str(reckoned.cost.total),
        "cost": {name: str(getattr(reckoned.cost, name)) for name in _COST},
    }


def _sentences(worked: Worked, labour: LabourReckoned) -> list[dict[str, str]]:
    """The tasks that cost most more than estimated."""
    pairs = zip(worked.tasks, labour.tasks, strict=True)
    over = sorted((pair for pair in pairs if pair[1].cost.total > 0), key=lambda pair: -pair[1].cost.total)
    return [
        {"words": _sentence(one, reckoned, labour.wage), "over_cost": str(reckoned.cost.total)}
        for one, reckoned in over[:_MOST_SENTENCES]
    ]


def _sentence(worked: WorkedTask, reckoned: Reckoned, wage: Decimal) -> str:
    work = worked.work
    if work is None:
        return sentence_for("Hours on no task", reckoned, wage, (ZERO, ZERO, ""))
    name = f"{work.task.name}, {work.task.room}" if work.task.room else work.task.name
    return sentence_for(name, reckoned, wage, (work.planned, work.done, work.task.unit.replace("_", " ")))


def _proposals(job: Job) -> list[dict[str, str]]:
    """Rates of this job's tasks, in units an hour."""
    codes = {task.code for task in job.tasks.all()}
    return [
        {"task": row.task.name, "unit": row.task.unit, "words": row.words}
        | {"before": str(row.rate_before), "after": str(row.rate_after)}
        for row in list_proposals_of(job)
        if row.task.code in codes
    ]


def _findings(job: Job) -> list[dict[str, Any]]:
    rows = ConcealedFinding.objects.of(job.firm).filter(job=job).order_by("pk")
    return [
        {"kind": row.kind, "name": KIND_BY_CODE[row.kind].name if row.kind in KIND_BY_CODE else row.kind}
        | {"was_found": row.was_found, "cost": None if row.cost is None else str(row.cost)}
        for row in rows
    ]
