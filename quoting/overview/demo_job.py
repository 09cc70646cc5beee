"""The demo's job, told from `fixtures/demo/scenario.toml`: signed, billed, changed, paid, credited."""

from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

from django.utils import timezone

from labour.engine.vocabulary import Phase
from labour.firm.models import User
from labour.work.services import set_job_days
from quoting.agree.models import Contract
from quoting.agree.services import accept_quote
from quoting.agree.signing import Evidence, Signature
from quoting.agree.terms import change_contract_terms
from quoting.bill.credits import issue_credit_note
from quoting.bill.models import Invoice
from quoting.bill.payments import record_payment
from quoting.bill.queries import list_items
from quoting.bill.services import issue_milestone_invoice, issue_progress_invoice
from quoting.bill.statements import issue_statement
from quoting.change.models import ChangeOrder
from quoting.change.services import (
    ChangeDraft,
    approve_change_order,
    mark_started,
    raise_change_order,
    send_change_order,
)
from quoting.engine.pricing.money import to_cents
from quoting.offer.models import Quote

type Story = dict[str, Any]


def play_job(*, quote: Quote, story: Story, owner: User, now: datetime) -> Contract:
    """Sign the quote and tell what became of it, every step at its own moment before `now`."""
    firm = quote.firm
    contract = sign_demo_quote(quote, story, now)
    asked: Story = {"firm": firm, "job_id": contract.job_id, "by": owner}
    signed = _before(now, story["signed_days_ago"])
    terms: Story = {"billing": story["billing"], "retainage_percent": Decimal(story["retainage_percent"])}
    change_contract_terms(**asked, **terms, at=signed)
    starts = timezone.localdate(_before(now, story["starts_days_ago"]))
    set_job_days(
        **asked, starts_on=starts, finish_on=starts + timedelta(days=story["working_days"]), at=signed
    )
    _bill_deposit(contract, story["deposit"], owner, now)
    _find_rot(contract, story["change"], story["signed_by"], owner, now)
    invoice = _bill_progress(contract, story["progress"], owner, now)
    credit = story["credit"]
    issue_credit_note(
        firm=firm,
        invoice_id=invoice.pk,
        total=Decimal(credit["amount"]),
        reason=credit["reason"],
        at=_before(now, credit["days_ago"]),
        by=owner,
    )
    issue_statement(**asked, at=now)
    return contract


def sign_demo_quote(quote: Quote, story: Story, now: datetime) -> Contract:
    """The client signs; typed where the story has no strokes."""
    assert quote.paper is not None  # noqa: S101  (the scenario sends its first quote)
    at = _before(now, story["signed_days_ago"])
    evidence = _evidence(
        story["signed_by"], at, tuple(tuple(map(tuple, row)) for row in story.get("signature", ()))
    )
    shown = quote.paper.sha256
    return accept_quote(quote=quote, options=(), evidence=evidence, shown_sha256=shown, ticket="", at=at)


def _evidence(name: str, at: datetime, strokes: Any = ()) -> Evidence:
    signature = Signature(strokes=strokes) if strokes else Signature(typed=name)
    return Evidence(name, signature, at, "192.0.2.17", "Demo browser")


def _bill_deposit(contract: Contract, story: Story, owner: User, now: datetime) -> Invoice:
    row = contract.schedule.get(is_deposit=True)
    at = _before(now, story["days_ago"])
    invoice = issue_milestone_invoice(
        firm=contract.firm, job_id=contract.job_id, row_id=row.pk, at=at, by=owner
    )
    _pay(invoice, invoice.total, story, owner, now)
    return invoice


def _find_rot(contract: Contract, story: Story, signed_by: str, owner: User, now: datetime) -> ChangeOrder:
    room = contract.acceptance.quote.figures["rooms"][0]["name"]
    line = {"kind": "template", "room": room, "template": story["template"], "count": ""}
    draft = ChangeDraft(
        title=story["title"],
        reason=story["reason"],
        finding=story["finding"],
        lines=[line | {"area": story["area"], "length": story["length"]}],
    )
    at, firm = _before(now, story["days_ago"]), contract.firm
    change = raise_change_order(firm=firm, job_id=contract.job_id, draft=draft, ticket="", at=at, by=owner)
    change = send_change_order(firm=firm, change_id=change.pk, at=at, by=owner)
    assert change.paper is not None  # noqa: S101  (it was sent just now)
    approved = _before(now, story["approved_days_ago"])
    approve_change_order(
        change=change,
        evidence=_evidence(signed_by, approved),
        shown_sha256=change.paper.sha256,
        ticket="",
        at=approved,
    )
    return mark_started(firm=firm, change_id=change.pk, at=approved + timedelta(hours=3), by=owner)


def _bill_progress(contract: Contract, story: Story, owner: User, now: datetime) -> Invoice:
    """Bill what is done: phases by the scenario's percents; the approved change is done in full."""
    phases = {phase.value for phase in Phase}
    percents = {
        item.key: Decimal(story["percents"].get(phase, "0") if phase in phases else "100")
        for item in list_items(contract)
        for phase in [item.key.rpartition("/")[2]]
    }
    at = _before(now, story["days_ago"])
    invoice = issue_progress_invoice(
        firm=contract.firm, job_id=contract.job_id, percents=percents, at=at, by=owner
    )
    share = to_cents(invoice.total * Decimal(story["paid_share"]) / 100)
    _pay(invoice, share, story, owner, now)
    return invoice


def _pay(invoice: Invoice, amount: Decimal, story: Story, owner: User, now: datetime) -> None:
    at = _before(now, story["paid_days_ago"])
    record_payment(
        firm=invoice.firm,
        client_id=invoice.contract.client_id,
        amount=amount,
        method=story["method"],
        received_on=timezone.localdate(at),
        reference=story["reference"],
        shares={invoice.pk: amount},
        at=at,
        by=owner,
    )


def _before(now: datetime, days: int) -> datetime:
    return now - timedelta(days=days)
