"""Routes of the firm's letterhead and of the workers whose hours are priced."""

from typing import Any

from ninja import Router, Status

from labour.firm import services
from labour.firm.access import OFFICE, OWNER, MemberRequest, get_of
from labour.firm.api_access import at_by, only
from labour.firm.models import Worker
from labour.firm.queries import PricedWorker, list_priced_workers, price_worker
from labour.firm.schemas import LetterheadIn, LetterheadOut, WorkerIn, WorkerOut
from labour.firm.services import Letterhead

router = Router(tags=["firm"])

_WORKER = ("id", "name", "trade", "wage", "burden_percent")


@router.get("/firm", response=LetterheadOut)
@only(*OFFICE)
def get_firm(request: MemberRequest) -> Any:
    """The letterhead, paper, units and currency."""
    return request.firm


@router.put("/firm", response=LetterheadOut)
@only(*OFFICE)
def save_firm(request: MemberRequest, body: LetterheadIn) -> Any:
    """Change the letterhead. Issued papers keep what they said; prices are not converted."""
    return services.save_firm(firm=request.firm, letterhead=Letterhead(**dict(body)), **at_by(request))


@router.get("/workers", response=list[WorkerOut])
@only(*OWNER)
def get_workers(request: MemberRequest) -> Any:
    """Those whose hours are priced now, by name."""
    return [_shown(worker) for worker in list_priced_workers(request.firm)]


@router.post("/workers", response={201: WorkerOut})
@only(*OWNER)
def add_worker(request: MemberRequest, body: WorkerIn) -> Any:
    """Add someone whose hours are priced. New quotes use the new cost of an hour."""
    worker = services.add_worker(firm=request.firm, **dict(body), **at_by(request))
    return Status(201, _shown(price_worker(worker)))


@router.get("/workers/{int:worker_id}", response=WorkerOut)
@only(*OWNER)
def get_worker(request: MemberRequest, worker_id: int) -> Any:
    """A worker's wage, burden and loaded cost."""
    return _shown(price_worker(get_of(Worker, request.firm, pk=worker_id)))


@router.put("/workers/{int:worker_id}", response=WorkerOut)
@only(*OWNER)
def change_worker(request: MemberRequest, worker_id: int, body: WorkerIn) -> Any:
    """Change a wage or burden. Quotes already made keep their figures."""
    row = get_of(Worker, request.firm, pk=worker_id)
    return _shown(price_worker(services.change_worker(worker=row, **dict(body), **at_by(request))))


@router.post("/workers/{int:worker_id}/retire", response={204: None})
@only(*OWNER)
def retire_worker(request: MemberRequest, worker_id: int) -> Any:
    """Take someone out of the price of an hour. The last one stays."""
    services.retire_worker(worker=get_of(Worker, request.firm, pk=worker_id), **at_by(request))
    return Status(204, None)


def _shown(priced: PricedWorker) -> dict[str, Any]:
    figures = {"loaded_cost": priced.loaded_cost, "why": priced.why.texts()}
    return {name: getattr(priced.worker, name) for name in _WORKER} | figures
