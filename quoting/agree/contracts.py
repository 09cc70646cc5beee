"""What follows an acceptance: the job with its planned tasks, the contract with its parts and payments."""

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

from labour.firm.models import User
from labour.work.models import Job
from labour.work.services import JobWords, TaskPlan, open_job, plan_tasks
from labour.work.stating import state_hours
from quoting.agree.choosing import Choice
from quoting.agree.models import Acceptance, Contract, ContractPart, PartKind, ScheduleRow
from quoting.agree.payments import Payments
from quoting.documents.services import take_number
from quoting.engine.billing.amounts import Amounts
from quoting.engine.hours_view import planned_hours
from quoting.engine.pricing.money import split_by_shares
from quoting.offer.models import Quote
from quoting.price.models import PriceSettings

_TASK = ("room", "code", "name", "phase", "unit", "licence")


def open_contract(
    acceptance: Acceptance, choice: Choice, payments: Payments, settings: PriceSettings, by: User | None
) -> Contract:
    """The contract of an accepted quote, and its job. Called inside the transaction of the acceptance."""
    quote = acceptance.quote
    contract: Contract = Contract.objects.create(
        firm=quote.firm,
        job=_open_job(acceptance, choice, settings, by),
        client=quote.survey.site.client,
        acceptance=acceptance,
        quote_total=acceptance.total,
        retainage_percent=settings.retainage_percent,
        agreed_at=acceptance.signed_at,
    )
    ContractPart.objects.bulk_create(_parts(contract, quote, choice))
    ScheduleRow.objects.bulk_create(
        ScheduleRow(
            contract=contract, position=place, name=row.name, amount=row.amount, is_deposit=row.is_deposit
        )
        for place, row in enumerate(payments.rows, start=1)
    )
    return contract


def _open_job(acceptance: Acceptance, choice: Choice, settings: PriceSettings, by: User | None) -> Job:
    quote = acceptance.quote
    site = quote.survey.site
    number = take_number(firm=quote.firm, series="job", prefix="J-")
    words = JobWords(number, quote.title, site.client.name, site.address)
    at = quote.decided_at or acceptance.signed_at
    job = open_job(firm=quote.firm, words=words, at=at, by=by)
    plan_tasks(job=job, source=quote.number, tasks=_tasks_of(quote, choice))
    state_hours(job=job, at=at, own_trades=list_own_trades(settings))
    return job


def list_own_trades(settings: PriceSettings) -> list[str]:
    """Licensed trades that the firm's own crew does: those that it does not buy by the hour."""
    costs = {"plumbing": settings.plumber_cost, "electrical": settings.electrician_cost}
    return [trade for trade, cost in costs.items() if cost is None]


def _tasks_of(quote: Quote, choice: Choice) -> Iterator[TaskPlan]:
    """Every line with hours, with the conditions of its room; options bring theirs and replace others."""
    held = {
        room["name"]: tuple(condition["name"] for condition in room["conditions"])
        for room in quote.figures["rooms"]
    }
    gone = {key for option in choice.options for key in option.replaces}
    base = [line for line in quote.figures["firm_view"]["lines"] if line["key"] not in gone]
    for line in (*base, *(work for option in choice.options for work in option.works)):
        if line["hours"] is not None:
            yield _task_of(line, held.get(line["room"], ()))


def _task_of(line: Mapping[str, Any], conditions: tuple[str, ...]) -> TaskPlan:
    return TaskPlan(
        **{name: line[name] for name in _TASK},
        **planned_hours(line["hours"]),
        quantity=Decimal(line["quantity"]),
        cure_hours=Decimal(line["cure_hours"]),
        conditions=conditions,
    )


def _parts(contract: Contract, quote: Quote, choice: Choice) -> Iterator[ContractPart]:
    yield _part(contract, 1, (PartKind.QUOTE, f"Quote {quote.number}"), choice.base, _items_of(quote, choice))
    for place, option in enumerate(choice.options, start=1):
        item = {"key": f"option-{place}", "label": option.name, "amount": str(option.total)}
        yield _part(contract, place + 1, (PartKind.OPTION, option.name), option.amounts, [item])


def _part(
    contract: Contract, place: int, what: tuple[PartKind, str], amounts: Amounts, items: list[dict[str, str]]
) -> ContractPart:
    kind, label = what
    return ContractPart(
        contract=contract, position=place, kind=kind, label=label[:200],
        amounts=amounts.to_json(), items=items, total=amounts.total,
    )  # fmt: skip


def _items_of(quote: Quote, choice: Choice) -> list[dict[str, str]]:
    """The phases with their share of the total with tax; no cent is lost."""
    phases = quote.figures["client_view"]["phases"]
    amounts = split_by_shares(choice.base.total, [Decimal(phase["amount"]) for phase in phases])
    return [
        {"key": phase["phase"], "label": phase["label"], "amount": str(amount)}
        for phase, amount in zip(phases, amounts, strict=True)
    ]
