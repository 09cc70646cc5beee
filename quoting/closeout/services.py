"""Closing a job with its figures frozen, and opening it again.

Comes in: the firm, the job, what was measured and found, the moment and the person. Goes out: the closeout.
"""

from collections.abc import Mapping, Sequence
from datetime import datetime
from decimal import Decimal

from django.db import transaction

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm, User
from labour.firm.services import write_audit
from labour.learn.services import close_job, reopen_job
from quoting.agree.queries import lock_contract
from quoting.closeout.bought import CannotChangeCosts, CostWords, add_cost, strike_cost
from quoting.closeout.figures import figures_of
from quoting.closeout.models import Closeout
from quoting.closeout.queries import list_open_matters
from quoting.price.findings import FindingWords, record_findings

__all__ = [
    "CannotChangeCosts",
    "CannotCloseOut",
    "CannotReopen",
    "CostWords",
    "add_cost",
    "close_out",
    "reopen",
    "strike_cost",
]

LONGEST_REASON = 400


class CannotCloseOut(Refusal):
    """The job stays open."""


class CannotReopen(Refusal):
    """The job stays closed."""


@transaction.atomic
def close_out(
    *,
    firm: Firm,
    job_id: int,
    quantities: Mapping[int, Decimal],
    findings: Sequence[FindingWords],
    at: datetime,
    by: User | None,
) -> Closeout:
    """Close the job, learn from it, and keep its figures as they stand now.

    quantities: measured at the end, by planned task; left out: as logged. Raise Http404 without such a job,
    CannotCloseOut while a change order waits, CannotCloseJob, CannotRecordFindings.
    """
    contract = lock_contract(firm, job_id=job_id)
    if contract.job.closed_at is not None:
        raise CannotCloseOut(f"{contract.job.number} is closed already.")
    blocking = [matter for matter in list_open_matters(contract) if matter.blocks]
    if blocking:
        raise CannotCloseOut(*(Problem("changes", f"{matter.words}.") for matter in blocking))
    record_findings(firm=firm, job=contract.job, findings=findings, at=at, by=by)
    contract.job = close_job(firm=firm, job_id=job_id, quantities=quantities, at=at, by=by)
    closeout: Closeout = Closeout.objects.create(
        firm=firm, job=contract.job, closed_at=at, closed_by=by, figures=figures_of(contract, at)
    )
    return closeout


@transaction.atomic
def reopen(*, firm: Firm, job_id: int, why: str, at: datetime, by: User | None) -> None:
    """Open a closed job again. Its closeout goes; the audit line keeps its figures and the reason.

    Raise Http404 without such a job, CannotReopen for an open job or without a reason.
    """
    job, reason = lock_contract(firm, job_id=job_id).job, why.strip()
    closeout = Closeout.objects.of(firm).filter(job=job).first()
    if job.closed_at is None:
        raise CannotReopen(f"{job.number} is open.")
    if not 0 < len(reason) <= LONGEST_REASON:
        raise CannotReopen(Problem("why", f"Write why, in at most {LONGEST_REASON} characters."))
    detail = {"why": reason, "figures": closeout.figures if closeout else None}
    write_audit(firm=firm, by=by, at=at, action="reopen closeout", subject=job.number, detail=detail)
    if closeout is not None:
        closeout.delete()
    reopen_job(firm=firm, job_id=job_id, at=at, by=by)
