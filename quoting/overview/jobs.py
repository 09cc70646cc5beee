"""Jobs with their money: what the office sees of a job on one page, and of all jobs in a list."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.db.models import QuerySet

from labour.firm.models import Firm
from quoting.agree.models import Contract
from quoting.agree.queries import get_contract
from quoting.bill.models import CreditNote, Payment, RetainageRelease
from quoting.bill.queries import get_account, list_accounts
from quoting.documents.models import IssuedPaper
from quoting.engine.billing.account import JobAccount

__all__ = ["JobRow", "account_document", "get_contract", "job_view", "list_job_rows", "list_papers"]

_PAPERS = {
    "quote": "Quote",
    "executed-quote": "Signed quote",
    "change-order": "Change order",
    "executed-change": "Signed change order",
    "invoice": "Invoice",
    "credit-note": "Credit note",
    "receipt": "Receipt",
    "statement": "Statement",
    "release": "Retainage notice",
}
_LISTED = ("job", "client", "acceptance__quote")


@dataclass(frozen=True, slots=True)
class JobRow:
    """A job in the list, with what is owed on it."""

    contract: Contract
    account: JobAccount


def list_job_rows(firm: Firm, *, most: int = 50) -> list[JobRow]:
    """The firm's jobs, newest first, each with its account."""
    rows: QuerySet[Contract] = Contract.objects.of(firm).select_related(*_LISTED).order_by("-id")
    return [JobRow(contract, account) for contract, account in list_accounts(rows[:most])]


def job_view(contract: Contract) -> dict[str, Any]:
    """Everything on the job's page: contract, changes, bills, what is owed, photos, papers."""
    changes = list(contract.changes.select_related("paper").order_by("place"))
    return {
        "contract": contract,
        "job": contract.job,
        "quote": contract.acceptance.quote,
        "parts": list(contract.parts.all()),
        "changes": changes,
        "early": [change for change in changes if change.began_early],
        "invoices": list(contract.invoices.order_by("id")),
        "account": get_account(contract),
        "photos": list(contract.photos.defer("jpeg").order_by("-id")),
        "papers": [{"row": row, "words": _PAPERS.get(row.kind, row.kind)} for row in list_papers(contract)],
    }


def list_papers(contract: Contract) -> list[IssuedPaper]:
    """Every issued paper of the job, in the order in which they were issued."""
    quote, acceptance = contract.acceptance.quote, contract.acceptance
    ids = [quote.paper_id, acceptance.executed_id]
    for change in contract.changes.all():
        approval = getattr(change, "approval", None)
        ids += [change.paper_id, approval and approval.executed_id]
    invoices = contract.invoices.all()
    ids += [invoice.paper_id for invoice in invoices]
    ids += _ids(CreditNote.objects.filter(invoice__in=invoices), "paper_id")
    ids += _ids(RetainageRelease.objects.filter(invoice__in=invoices), "notice_id")
    ids += _ids(Payment.objects.filter(shares__invoice__in=invoices), "receipt_id")
    rows = IssuedPaper.objects.of(contract.firm).filter(pk__in=[pk for pk in ids if pk])
    statements = IssuedPaper.objects.of(contract.firm).filter(
        kind="statement", context__job__number=contract.job.number
    )
    return list((rows | statements).defer("pdf", "context", "fingerprint").order_by("issued_at", "id"))


def _ids(rows: "QuerySet[Any]", name: str) -> Iterable[int]:
    return list(rows.values_list(name, flat=True))


def account_document(contract: Contract) -> dict[str, Any]:
    """The job's money for programs, as decimal text.

    contract_sum = quote_total + approved changes; contract_sum = billed − credited + to_bill;
    owed = billed − credited − retained − paid.
    """
    account = get_account(contract)
    names = ("contract_sum", "billed", "credited", "retained", "paid", "owed", "to_bill")
    return {
        "quote_total": str(account.quote_total),
        "changes": [
            {"number": change.number, "status": change.status, "amount": str(change.total)}
            for change in contract.changes.order_by("place")
        ],
        **{name: str(getattr(account, name)) for name in names},
    }
