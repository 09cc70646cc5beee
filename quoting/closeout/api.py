"""Routes of a job's costs and of its end, for owner and office; only the owner opens a job again."""

from typing import Any

from django.http import HttpResponse
from django.utils import timezone
from ninja import Router, Status

from labour.firm.access import OFFICE, OWNER, MemberRequest
from labour.firm.api_access import at_by, only
from quoting.agree.models import Contract
from quoting.agree.queries import get_contract
from quoting.closeout import services
from quoting.closeout.bought import CostWords
from quoting.closeout.figure_schemas import CloseoutOut
from quoting.closeout.paper import closeout_pdf
from quoting.closeout.queries import (
    closeout_figures,
    findings_of,
    is_old,
    list_final,
    list_open_matters,
    list_supposed,
)
from quoting.closeout.schemas import (
    CloseOutIn,
    ClosingOut,
    JobCostIn,
    JobCostOut,
    JobCostsOut,
    ReopenIn,
)
from quoting.closeout.shown import cost_row, costs_view
from quoting.documents.answers import PDF_ROUTE, pdf_answer
from quoting.price.findings import FindingWords

router = Router(tags=["closeout"])


@router.get("/jobs/{int:job_id}/costs", response=JobCostsOut)
@only(*OFFICE)
def get_job_costs(request: MemberRequest, job_id: int) -> Any:
    """What was bought for a job, by category beside its estimate."""
    return costs_view(get_contract(request.firm, job_id))


@router.post("/jobs/{int:job_id}/costs", response={201: JobCostOut})
@only(*OFFICE)
def add_job_cost(request: MemberRequest, job_id: int, body: JobCostIn) -> Any:
    """Write down something bought for a job."""
    words = dict(body)
    asked: dict[str, Any] = {"firm": request.firm, "job_id": job_id, "ticket": words.pop("ticket")}
    return Status(201, cost_row(services.add_cost(cost=CostWords(**words), **asked, **at_by(request))))


@router.post("/jobs/{int:job_id}/costs/{int:cost_id}/strike", response=JobCostOut)
@only(*OFFICE)
def strike_job_cost(request: MemberRequest, job_id: int, cost_id: int) -> Any:
    """Take a cost out of the figures; it stays to be read."""
    asked: dict[str, Any] = {"firm": request.firm, "job_id": job_id, "cost_id": cost_id}
    return cost_row(services.strike_cost(**asked, **at_by(request)))


@router.get("/jobs/{int:job_id}/closing", response=ClosingOut)
@only(*OFFICE)
def get_closing(request: MemberRequest, job_id: int) -> Any:
    """What is still open in a job, and what would be closed: quantities and findings as they are known."""
    return _closing(get_contract(request.firm, job_id))


@router.post("/jobs/{int:job_id}/close", response={201: CloseoutOut})
@only(*OFFICE)
def close_job_out(request: MemberRequest, job_id: int, body: CloseOutIn) -> Any:
    """Close a job: its figures are frozen, and the rates learn from it."""
    contract = get_contract(request.firm, job_id)
    asked: dict[str, Any] = {"quantities": {row.task: row.quantity for row in body.quantities}}
    asked["findings"] = findings_of(contract)
    if body.findings is not None:
        old = is_old(contract)
        asked["findings"] = [FindingWords(**dict(row), old_house=old) for row in body.findings]
    made = services.close_out(firm=request.firm, job_id=job_id, **asked, **at_by(request))
    return Status(201, made.figures)


@router.get("/jobs/{int:job_id}/closeout", response=CloseoutOut)
@only(*OFFICE)
def read_closeout(request: MemberRequest, job_id: int) -> Any:
    """A job reckoned up: frozen when it was closed; of an open job, as it stands."""
    return closeout_figures(get_contract(request.firm, job_id), timezone.now())


@router.get("/jobs/{int:job_id}/closeout.pdf", openapi_extra=PDF_ROUTE)
@only(*OFFICE)
def read_closeout_paper(request: MemberRequest, job_id: int) -> HttpResponse:
    """The same as PDF, for the firm only."""
    contract, now = get_contract(request.firm, job_id), timezone.now()
    pdf = closeout_pdf(closeout_figures(contract, now), contract.job.closed_at or now)
    return pdf_answer(pdf, f"closeout-{contract.job.number}")


@router.post("/jobs/{int:job_id}/reopen", response={204: None})
@only(*OWNER)
def reopen_closed_job(request: MemberRequest, job_id: int, body: ReopenIn) -> Any:
    """Open a closed job again, with a reason."""
    services.reopen(firm=request.firm, job_id=job_id, why=body.why, **at_by(request))
    return Status(204, None)


def _closing(contract: Contract) -> dict[str, Any]:
    return {
        "open_matters": list_open_matters(contract),
        "tasks": [
            {"task": one.task.pk, "room": one.task.room, "name": one.task.name, "unit": one.task.unit}
            | {"planned": one.task.quantity, "quantity": one.quantity, "taken": one.taken.value}
            for one in list_final(contract)
        ],
        "findings": [
            {"kind": one.kind.code, "name": one.kind.name, "is_opened": one.is_opened}
            | {"was_found": one.was_found, "cost": one.cost}
            for one in list_supposed(contract)
        ],
    }
