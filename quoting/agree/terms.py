"""How a contract is billed: by milestone or by percent complete, and how much is held back."""

from datetime import datetime
from decimal import Decimal

from django.db import transaction
from django.shortcuts import get_object_or_404

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import AuditLine, Firm, User
from quoting.agree.models import Billing, Contract


class CannotChangeTerms(Refusal):
    """The contract's billing stays as it is."""


@transaction.atomic
def change_contract_terms(
    *, firm: Firm, job_id: int, billing: str, retainage_percent: Decimal, at: datetime, by: User | None
) -> Contract:
    """Say how a contract is billed. Only before its first bill. Raise CannotChangeTerms."""
    rows = Contract.objects.of(firm).select_for_update(of=("self",)).select_related("job", "client")
    contract: Contract = get_object_or_404(rows, job_id=job_id)
    _check(contract, billing, retainage_percent)
    before = f"{contract.billing}, {contract.retainage_percent} %"
    contract.billing, contract.retainage_percent = billing, retainage_percent
    contract.save(update_fields=["billing", "retainage_percent"])
    detail = {"before": before, "after": f"{billing}, {retainage_percent} %"}
    AuditLine.objects.create(
        firm=firm,
        at=at,
        by=by,
        action="changed terms of contract",
        subject=contract.job.number,
        detail=detail,
    )
    return contract


def has_bills(contract: Contract) -> bool:
    """Whether anything of the contract was billed already."""
    bills = contract._meta.get_field("invoices")
    is_billed: bool = bills.related_model._default_manager.filter(contract=contract).exists()
    return is_billed


def _check(contract: Contract, billing: str, retainage_percent: Decimal) -> None:
    problems = []
    if has_bills(contract):
        problems.append(
            Problem("", f"{contract.job.number} has been billed; how it is billed stays as it is.")
        )
    if billing not in Billing.values:
        problems.append(Problem("billing", f"must be one of {', '.join(Billing.values)}."))
    if not retainage_percent.is_finite() or not 0 <= retainage_percent < 100:
        problems.append(Problem("retainage_percent", "must be 0 or more and below 100."))
    elif retainage_percent != round(retainage_percent, 2):
        problems.append(Problem("retainage_percent", "has at most two decimals."))
    if problems:
        raise CannotChangeTerms(*problems)
