"""Routes of past jobs, for owner and office."""

from typing import Any

from django.utils import timezone
from ninja import Router, Status

from labour.firm.access import OFFICE, MemberRequest
from labour.firm.api_access import at_by, only
from quoting.past import services
from quoting.past.files import table_of
from quoting.past.models import PastTable
from quoting.past.queries import get_table, list_tables, read_against_firm
from quoting.past.schemas import PastMatchingIn, PastTableIn, PastTableOut, PastTableRowOut
from quoting.past.shown import read_view, table_row

router = Router(tags=["past jobs"])


@router.get("/past-tables", response=list[PastTableRowOut])
@only(*OFFICE)
def get_past_tables(request: MemberRequest) -> Any:
    """Tables of past jobs, newest first."""
    return [table_row(table) for table in list_tables(request.firm)]


@router.post("/past-tables", response={201: PastTableOut})
@only(*OFFICE)
def bring_past_table(request: MemberRequest, body: PastTableIn) -> Any:
    """Bring a table in; nothing is taken yet."""
    table = services.bring_table(
        firm=request.firm, name=body.name, table=table_of(body.rows), **at_by(request)
    )
    return Status(201, _view(table))


@router.get("/past-tables/{int:table_id}", response=PastTableOut)
@only(*OFFICE)
def read_past_table(request: MemberRequest, table_id: int) -> Any:
    """A table with the jobs that it gives, and the rows that it does not, each with its reasons."""
    return _view(get_table(request.firm, table_id))


@router.put("/past-tables/{int:table_id}/matching", response=PastTableOut)
@only(*OFFICE)
def match_past_table(request: MemberRequest, table_id: int, body: PastMatchingIn) -> Any:
    """Say what the columns and words of the table mean."""
    row = get_table(request.firm, table_id)
    return _view(services.match_table(firm=request.firm, table_id=row.pk, **dict(body), **at_by(request)))


@router.post("/past-tables/{int:table_id}/take", response=PastTableOut)
@only(*OFFICE)
def take_past_table(request: MemberRequest, table_id: int) -> Any:
    """Take the good rows in as past jobs, and learn from them."""
    row = get_table(request.firm, table_id)
    return _view(services.take_table(firm=request.firm, table_id=row.pk, **at_by(request)))


@router.post("/past-tables/{int:table_id}/put-out", response=PastTableOut)
@only(*OFFICE)
def put_out_past_table(request: MemberRequest, table_id: int) -> Any:
    """Take the jobs of the table out again."""
    row = get_table(request.firm, table_id)
    return _view(services.put_out_table(firm=request.firm, table_id=row.pk, **at_by(request)))


@router.delete("/past-tables/{int:table_id}", response={204: None})
@only(*OFFICE)
def drop_past_table(request: MemberRequest, table_id: int) -> Any:
    """Forget a table that was not taken in."""
    row = get_table(request.firm, table_id)
    services.drop_table(firm=request.firm, table_id=row.pk, **at_by(request))
    return Status(204, None)


def _view(table: PastTable) -> dict[str, Any]:
    if table.taken_at is None:
        return table_row(table) | read_view(read_against_firm(table, today=timezone.localdate()))
    empty: dict[str, Any] = {"jobs": [], "good_rows": 0, "unknown_tasks": []}
    return table_row(table) | empty | {"left": table.left}
