"""Routes of the first page: the firm at a glance, and the crew's work sheets."""

from typing import Any

from ninja import Router

from labour.firm.access import EVERYONE, OFFICE, MemberRequest
from labour.firm.api_access import only
from quoting.offer.api import row_of
from quoting.overview.job_buying import job_purchases, left_out
from quoting.overview.jobs import get_contract
from quoting.overview.queries import get_overview, list_work_sheets
from quoting.overview.schemas import JobBuyingOut, OverviewOut, SheetRowOut

router = Router(tags=["overview"])


@router.get("/overview", response=OverviewOut)
@only(*OFFICE)
def read_overview(request: MemberRequest) -> Any:
    """The newest quotes, drafts waiting, offers out, and materials without a price."""
    overview = get_overview(request.firm)
    counts = {name: getattr(overview, name) for name in ("drafts", "sent", "unpriced_materials")}
    return counts | {"quotes": [row_of(quote) for quote in overview.quotes]}


@router.get("/jobs/{int:job_id}/buying-list", response=JobBuyingOut)
@only(*EVERYONE)
def read_job_buying_list(request: MemberRequest, job_id: int) -> Any:
    """What the job buys and when, without prices; those are in its quote's buying list."""
    contract = get_contract(request.firm, job_id)
    rows = job_purchases(contract, sees_prices=False)
    return {"starts_on": contract.job.starts_on, "left_out": left_out(contract), "materials": rows}


@router.get("/work-sheets", response=list[SheetRowOut])
@only(*EVERYONE)
def get_work_sheets(request: MemberRequest) -> Any:
    """Offers whose work sheets the crew may open, newest first."""
    return [
        {"quote_id": quote.pk, "number": quote.number, "title": quote.title}
        | {"client_name": quote.survey.site.client.name, "site": quote.survey.site.address}
        for quote in list_work_sheets(request.firm)
    ]
