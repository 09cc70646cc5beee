"""Billing a job: by milestone, by percent complete, and all that is left. Each bill is a numbered paper."""

from collections.abc import Callable, Mapping
from datetime import datetime
from decimal import Decimal

from django.db import transaction

from labour.firm.models import Firm, User
from quoting.agree.models import Contract
from quoting.agree.queries import lock_contract
from quoting.bill.issuing import BillPlan, find_issued, issue
from quoting.bill.models import Invoice
from quoting.bill.plans import plan_final, plan_milestone, plan_progress

type Plan = Callable[[Contract], BillPlan]


@transaction.atomic
def issue_milestone_invoice(
    *,
    firm: Firm,
    job_id: int,
    row_id: int,
    at: datetime,
    by: User | None,
    retain: bool = True,
    ticket: str = "",
) -> Invoice:
    """Bill one payment of the schedule. retain: hold the contract's retainage back; never of a deposit.

    Raise as `plan_milestone`, and CannotBill for more than is left of the contract. The same ticket again
    gives the same invoice.
    """
    contract = lock_contract(firm, job_id=job_id)
    return _issue(contract, lambda it: plan_milestone(it, row_id, retain=retain), ticket, at, by)


@transaction.atomic
def issue_progress_invoice(
    *, firm: Firm, job_id: int, percents: Mapping[str, Decimal], at: datetime, by: User | None,
    retain: bool = True, ticket: str = "",
) -> Invoice:  # fmt: skip
    """Bill what the work done so far has earned, less all that is billed. percents: by item's key.

    An item that is not named stays as it was. Raise as `plan_progress`.
    """
    contract = lock_contract(firm, job_id=job_id)
    return _issue(contract, lambda it: plan_progress(it, percents, retain=retain), ticket, at, by)


@transaction.atomic
def issue_final_invoice(
    *, firm: Firm, job_id: int, at: datetime, by: User | None, retain: bool = False, ticket: str = ""
) -> Invoice:
    """Bill all that is left of the contract. Raise as `plan_final`."""
    contract = lock_contract(firm, job_id=job_id)
    return _issue(contract, lambda it: plan_final(it, retain=retain), ticket, at, by)


def _issue(contract: Contract, plan: Plan, ticket: str, at: datetime, by: User | None) -> Invoice:
    """What the ticket made before, or a new invoice by the plan."""
    return find_issued(contract.firm, ticket) or issue(contract, plan(contract), ticket, at, by)
