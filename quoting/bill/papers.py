"""What the papers about money are given. Rows and the job's account come in; a template's context goes out.

Every context has firm (`letterhead_of`), client {name, address, email, phone} and, when it is about one job,
job {number, title, address}. Amounts are Decimals, days dates, as they are shown. Amounts shown on one paper
add up on it.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict
from decimal import Decimal
from itertools import groupby
from typing import Any

from quoting.agree.models import Contract, PartKind
from quoting.bill.models import CreditNote, Invoice, Payment
from quoting.clients.models import Client
from quoting.documents.letterhead import letterhead_of
from quoting.engine.billing.amounts import Amounts, Slice, TaxRate
from quoting.engine.billing.ledger import JobAccount, Ledger
from quoting.engine.pricing.money import ZERO

TEMPLATES = {
    "invoice": "documents/invoice.html",
    "credit-note": "documents/credit_note.html",
    "receipt": "documents/receipt.html",
    "statement": "documents/statement.html",
    "release": "documents/release.html",
}
"""By the kind of the paper."""

type Context = dict[str, Any]
type Rows = Sequence[Mapping[str, Any]]


def invoice_context(
    invoice: Invoice, account: JobAccount, progress: Rows = (), schedule_rows: Sequence[int] = ()
) -> Context:
    """An invoice. account: the job with this invoice in it. schedule_rows: keys of those that it bills.

    invoice {number, title, kind, issued_on, due_on}; lines [{label, amount}]: net by the taxes on it, they
    add up to net; net + taxes [{name, rate, amount}] = total; due_now = total − retained; progress [{label,
    amount (with tax), before, now (percent)}], empty unless billed by percent complete; statement
    {contract_sum, billed_before, this, credited, retained, paid, to_come, owed}: billed_before + this −
    credited + to_come = contract_sum; billed_before + this − credited − retained − paid = owed.
    """
    said = {name: getattr(invoice, name) for name in ("number", "title", "kind", "issued_on", "due_on")}
    return (
        of_contract(invoice.contract)
        | _sums(Amounts.from_json(invoice.amounts))
        | {
            "invoice": said,
            "retained": invoice.retained,
            "due_now": invoice.total - invoice.retained,
            "progress": list(progress),
            "statement": _standing(account, invoice.total),
            "schedule_rows": list(schedule_rows),
        }
    )


def credit_context(credit: CreditNote, account: JobAccount, freed: Decimal) -> Context:
    """A credit note; all its amounts are positive. account: the job with this credit in it.

    credit {number, reason, issued_on, is_whole: all of the invoice at once}; invoice {number, title,
    issued_on, total}; lines, net, taxes, total as on an invoice; unheld: what is no longer held back; freed:
    paid money that is the client's credit again; statement as on an invoice, with "this" the credit,
    "billed_before" all bills and "credited" all credits, this one too.
    """
    invoice = credit.invoice
    said = {name: getattr(credit, name) for name in ("number", "reason", "issued_on")}
    return (
        of_contract(invoice.contract)
        | _sums(Amounts.from_json(credit.amounts))
        | {
            "credit": said | {"is_whole": credit.total == invoice.total},
            "invoice": {name: getattr(invoice, name) for name in ("number", "title", "issued_on", "total")},
            "unheld": credit.retained,
            "freed": freed,
            "statement": _standing(account, credit.total) | {"billed_before": account.billed},
        }
    )


def receipt_context(payment: Payment, shares: Rows, credit_left: Decimal) -> Context:
    """A receipt; for a refund too, whose amount is negative. It is about no single job.

    payment {number, amount, method (in words), received_on, reference, note, is_refund}; shares [{number,
    title, amount, open: left after it}]; to_credit: what of this payment became the client's credit;
    credit_left: all the credit there is now.
    """
    names = ("number", "amount", "received_on", "reference", "note", "is_refund")
    said = {name: getattr(payment, name) for name in names} | {"method": payment.get_method_display()}
    to_credit = payment.amount - sum((share["amount"] for share in shares), ZERO)
    return of_client(payment.client) | {
        "payment": said,
        "shares": list(shares),
        "to_credit": max(to_credit, ZERO),
        "credit_left": credit_left,
    }


def release_context(contract: Contract, release: Mapping[str, Any], rows: Rows) -> Context:
    """A notice that money held back is due now. release {number, released_on, due_on}.

    rows [{number, title, held: before it, amount}]; the amounts add up to total; due_on.
    """
    return of_contract(contract) | {
        "release": dict(release),
        "rows": list(rows),
        "total": sum((row["amount"] for row in rows), ZERO),
        "due_on": release["due_on"],
    }


def statement_context(contract: Contract, ledger: Ledger, said: Mapping[str, Rows]) -> Context:
    """A statement of one job, without its number and day. said: rows, bills and ageing.

    account: `JobAccount` by name; changes [{number, title, amount, status}]; rows [{on, what, number, charge,
    credit, paid, amount, balance}], the last balance is account.owed; bills [{number, title, issued_on,
    due_on, total, credited, held, paid, open}]; ageing [{label, amount}] adds up to account.owed.
    """
    changes = [
        {"number": number, "title": title.strip(), "amount": part.total, "status": "approved"}
        for part in contract.parts.filter(kind=PartKind.CHANGE)
        for number, _, title in [part.label.partition(" ")]
    ]
    return (
        of_contract(contract)
        | {"account": asdict(ledger.account), "changes": changes}
        | {name: list(rows) for name, rows in said.items()}
    )


def of_contract(contract: Contract) -> Context:
    """firm, client and job of a contract."""
    job = {name: getattr(contract.job, name) for name in ("number", "title", "address")}
    return of_client(contract.client) | {"job": job}


def of_client(client: Client) -> Context:
    """firm and client."""
    names = ("name", "address", "email", "phone")
    return {"firm": letterhead_of(client.firm), "client": {name: getattr(client, name) for name in names}}


def tax_words(taxes: Iterable[TaxRate]) -> str:
    """The taxes of a slice in words; nothing when there are none.

    >>> tax_words([TaxRate("State tax", Decimal("6.2500"))])
    'State tax 6.25%'
    """
    return " and ".join(f"{tax.name} {tax.rate.normalize():f}%" for tax in taxes)


def _sums(amounts: Amounts) -> Context:
    taxes = [{"name": tax.name, "rate": tax.rate, "amount": sum_} for tax, sum_ in amounts.taxes.items()]
    return {"lines": _lines(amounts), "net": amounts.net, "taxes": taxes, "total": amounts.total}


def _lines(amounts: Amounts) -> list[Context]:
    """Net by the taxes on it, in words; the most taxed first."""

    def order(part: Slice) -> tuple[int, tuple[TaxRate, ...]]:
        return -len(part.taxes), part.taxes

    groups = groupby(sorted(amounts.nets, key=order), key=order)
    sums = {taxes: sum((amounts.nets[part] for part in parts), ZERO) for (_, taxes), parts in groups}
    return [
        {"label": f"Work and materials, {_with(taxes)}", "amount": amount} for taxes, amount in sums.items()
    ]


def _with(taxes: tuple[TaxRate, ...]) -> str:
    return f"with {tax_words(taxes)}" if taxes else "without tax"


def _standing(account: JobAccount, this: Decimal) -> Context:
    return {
        "contract_sum": account.contract_sum,
        "billed_before": account.billed - this,
        "this": this,
        "credited": account.credited,
        "retained": account.retained,
        "paid": account.paid,
        "to_come": account.to_bill,
        "owed": account.owed,
    }
