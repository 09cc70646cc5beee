"""Routes of hours for owner and office: estimated against actual, the entries behind, how ranges held."""

from dataclasses import asdict
from typing import Annotated, Any

from ninja import Query, Router

from labour.engine.compared import Compared
from labour.firm.access import OFFICE, MemberRequest
from labour.firm.api_access import only
from labour.firm.models import Role
from labour.review.kept import Kept
from labour.review.queries import compare_hours, judge_stated_ranges, list_behind
from labour.review.schemas import AskedIn, KeptOut, ReviewCostsOut, ReviewEntriesOut, ReviewOut, ReviewRowOut
from labour.review.shown import entry_row, may_see_costs

router = Router(tags=["hours"])
_COSTS = tuple(ReviewCostsOut.model_fields)
_ROW = tuple(name for name in ReviewRowOut.model_fields if name != "costs")


@router.get("/hours", response=ReviewOut)
@only(*OFFICE)
def read_hours(request: MemberRequest, asked: Annotated[AskedIn, Query()]) -> Any:
    """Estimated against actual hours by task, phase, job, worker, role or month."""
    found = compare_hours(request.firm, asked.read())
    costs = may_see_costs(request.member, found.asked)
    return {
        "by": found.asked.by,
        "which": found.asked.which,
        "rows": [_row(row, costs) for row in found.rows],
        "total": _row(found.total, costs),
        "standard_wage": found.wage if costs else None,
        "notes": [asdict(note) for note in found.notes],
    }


@router.get("/hours/entries", response=ReviewEntriesOut)
@only(*OFFICE)
def read_hours_entries(request: MemberRequest, asked: Annotated[AskedIn, Query()]) -> Any:
    """The entries behind a group of hours."""
    found = list_behind(request.firm, asked.read())
    costs = request.member.role == Role.OWNER
    rows = [entry_row(found, share, cost) for share, cost in found.shares]
    return {
        "total": _row(found.total, may_see_costs(request.member, found.asked)),
        "entries": rows if costs else [row | {"cost": None} for row in rows],
    }


@router.get("/hours/kept", response=KeptOut)
@only(*OFFICE)
def read_kept_ranges(request: MemberRequest) -> Any:
    """How often the stated ranges of finished jobs and of their tasks held."""
    found = judge_stated_ranges(request.firm)
    counts = ("job_eight", "job_five", "task_eight", "task_five")
    return {name: asdict(getattr(found, name)) for name in counts} | {
        "jobs": _jobs(found),
        "jobs_left_out": [{"why": why, "count": count} for why, count in found.jobs_left_out],
        "tasks_left_out": [{"why": why, "count": count} for why, count in found.tasks_left_out],
    }


def _row(row: Compared, costs: bool) -> dict[str, Any]:
    money = {name: getattr(row, name) for name in _COSTS} if costs else None
    return {name: getattr(row, name) for name in _ROW} | {"costs": money}


def _jobs(found: Kept) -> list[dict[str, Any]]:
    return [
        {
            "job_id": kept.job.pk,
            "number": kept.job.number,
            "title": kept.job.title,
            "low": kept.eight.low,
            "middle": kept.middle,
            "high": kept.eight.high,
            "low50": kept.five.low if kept.five else None,
            "high50": kept.five.high if kept.five else None,
            "actual": kept.eight.actual,
            "is_inside": kept.eight.is_inside,
        }
        for kept in found.jobs
    ]
