"""Routes of the rate book: everyone of the firm reads it, owner and office change it."""

from dataclasses import asdict
from typing import Any

from ninja import Router, Status

from labour.firm.access import EVERYONE, OFFICE, MemberRequest, get_of
from labour.firm.api_access import at_by, only
from labour.firm.api_values import Search
from labour.ratebook import services
from labour.ratebook.models import RateVersion, TaskRow
from labour.ratebook.queries import get_task_row, list_task_history, list_tasks, list_versions
from labour.ratebook.schemas import RateVersionOut, TaskChange, TaskIn, TaskOut, TaskWithHistoryOut
from labour.ratebook.services import fields_of
from labour.ratebook.shown import shown_versions, told
from labour.ratebook.versions import put_back_rate

router = Router(tags=["rate book"])


@router.get("/rate-book", response=list[TaskOut])
@only(*EVERYONE)
def get_rate_book(request: MemberRequest, search: Search = "") -> Any:
    """Every task in the order of the work, or those whose code or words hold the search."""
    return [fields_of(row.to_engine()) for row in list_tasks(request.firm, search.strip())]


@router.post("/rate-book", response={201: TaskWithHistoryOut})
@only(*OFFICE)
def add_task(request: MemberRequest, body: TaskIn) -> Any:
    """Add a task of the firm's own; templates can name it by its code."""
    row = services.add_task(firm=request.firm, fields=dict(body), **at_by(request))
    return Status(201, _whole(row))


@router.get("/rate-book/{slug:code}", response=TaskWithHistoryOut)
@only(*EVERYONE)
def get_task(request: MemberRequest, code: str) -> Any:
    """One task: its rate with source and range, and what was changed."""
    return _whole(get_task_row(request.firm, code))


@router.patch("/rate-book/{slug:code}", response=TaskWithHistoryOut)
@only(*OFFICE)
def change_task(request: MemberRequest, code: str, body: TaskChange) -> Any:
    """Change fields of a task. Quotes that are already made keep their hours."""
    row = get_task_row(request.firm, code)
    changes = {name: getattr(body, name) for name in body.model_fields_set}
    return _whole(services.change_task(firm=request.firm, code=row.code, changes=changes, **at_by(request)))


@router.get("/rate-book/{slug:code}/versions", response=list[RateVersionOut])
@only(*EVERYONE)
def get_rate_versions(request: MemberRequest, code: str) -> Any:
    """The rates that a task has and had, newest first; none while it has those it started with."""
    row = get_task_row(request.firm, code)
    return [asdict(version) for version in shown_versions(row, list_versions(row))]


@router.post("/rate-book/{slug:code}/versions/{version_id}/put-back", response=TaskWithHistoryOut)
@only(*OFFICE)
def put_rate_back(request: MemberRequest, code: str, version_id: int) -> Any:
    """Give a task rates again that it had. Quotes that are already made keep their hours."""
    row = get_task_row(request.firm, code)
    version = get_of(RateVersion, request.firm, pk=version_id, task=row)
    return _whole(put_back_rate(firm=request.firm, code=row.code, version_id=version.pk, **at_by(request)))


def _whole(row: TaskRow) -> dict[str, Any]:
    history = [told(line) for line in list_task_history(row)]
    return fields_of(row.to_engine()) | {"history": history}
