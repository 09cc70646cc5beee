"""How a bill comes into being: the contract is locked, the engine says what is allowed, a number is taken.

Called by the services of this step inside their transaction. The contract's row is locked first, then the
series of numbers; a client's row comes before both where payments are concerned.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any

from django.utils import timezone

from labour.engine.refusal import Problem
from labour.firm.models import AuditLine, Firm, User
from labour.firm.once import find_done, keep_done
from quoting.agree.models import Contract, ScheduleRow
from quoting.bill.e_invoices import attached, invoice_xml
from quoting.bill.models import Invoice, InvoiceKind
from quoting.bill.papers import TEMPLATES, invoice_context
from quoting.bill.queries import get_ledger
from quoting.documents.services import Draft, issue_paper, take_number
from quoting.engine.billing.ledger import CannotBill, JobAccount, bill
from quoting.engine.billing.schedule import check_deposit
from quoting.engine.pricing.money import ZERO
from quoting.price.queries import get_price_settings

ISSUE = "issue an invoice"


@dataclass(frozen=True, slots=True)
class BillPlan:
    """What is to be billed, with tax. rows: payments of the schedule that are billed by it.

    milestone: the one payment that it is about. percents: by item, as kept. progress: as the paper shows it.
    """

    kind: InvoiceKind
    title: str
    total: Decimal
    retained: Decimal = ZERO
    rows: Sequence[ScheduleRow] = ()
    milestone: ScheduleRow | None = None
    percents: Mapping[str, str] = field(default_factory=dict)
    progress: Sequence[Mapping[str, Any]] = ()


def find_issued(firm: Firm, ticket: str) -> Invoice | None:
    """The invoice that this ticket made before. Look after the contract is locked: then two cannot be new."""
    done = find_done(firm, ticket, ISSUE)
    return None if done is None else Invoice.objects.of(firm).get(pk=done)


def issue(contract: Contract, plan: BillPlan, ticket: str, at: datetime, by: User | None) -> Invoice:
    """Make the invoice with its number, its figures for programs and its paper. Raise CannotBill."""
    firm = contract.firm
    number = take_number(firm=firm, series="invoice", prefix="I-")
    ledger, made = bill(get_ledger(contract), number, plan.total, plan.retained)
    if not made.amounts.nets:
        raise CannotBill(Problem("total", "is only tax; bill it together with the work that it lies on."))
    invoice = Invoice(
        firm=firm,
        contract=contract,
        kind=plan.kind,
        number=number,
        title=plan.title,
        amounts=made.amounts.to_json(),
        net=made.amounts.net,
        total=made.amounts.total,
        retained=plan.retained,
        progress=dict(plan.percents),
        milestone=plan.milestone,
        issued_at=at,
        issued_on=timezone.localdate(at),
        due_on=due_day(firm, timezone.localdate(at)),
        issued_by=by,
    )
    _keep_paper(invoice, plan, ledger.account, at)
    for row in plan.rows:
        row.is_billed = True
        row.save(update_fields=["is_billed"])
    note(contract, "issued invoice", at, by, number=number, total=str(invoice.total))
    keep_done(firm, ticket, ISSUE, invoice.pk, at)
    return invoice


def check_cap(contract: Contract, deposit: Decimal) -> None:
    """Raise DepositTooHigh when it is more than the firm's settings allow of this contract."""
    prices, contract_sum = get_price_settings(contract.firm), get_ledger(contract).account.contract_sum
    check_deposit(deposit, contract_sum, prices.deposit_cap_percent, prices.deposit_cap_amount)


def due_day(firm: Firm, day: date) -> date:
    """When what is billed on a day is due, by the firm's payment days."""
    return day + timedelta(days=get_price_settings(firm).payment_days)


def note(contract: Contract, action: str, at: datetime, by: User | None, **detail: str) -> None:
    """Write the audit line of something that happened to a job's money."""
    AuditLine.objects.create(
        firm=contract.firm, at=at, by=by, action=action, subject=contract.job.number, detail=detail
    )


def _keep_paper(invoice: Invoice, plan: BillPlan, account: JobAccount, at: datetime) -> None:
    """Give the invoice its XML and its paper, and keep it."""
    xml = invoice_xml(invoice)
    context = invoice_context(invoice, account, plan.progress, [row.pk for row in plan.rows])
    draft = Draft("invoice", invoice.number, TEMPLATES["invoice"], context, attached(xml, at))
    invoice.paper = issue_paper(firm=invoice.firm, draft=draft, at=at)
    invoice.e_invoice = xml.decode()
    invoice.save()
