"""Routes of jobs: what is to be done and when. No prices."""

from typing import Any

from ninja import Router

from labour.firm.access import EVERYONE, OFFICE, MemberRequest
from labour.firm.api_access import at_by, only
from labour.work.queries import get_job, list_jobs
from labour.work.schemas import JobDaysIn, JobOut, JobRowOut
from labour.work.services import set_job_days
from labour.work.shown import job_row, job_view

router = Router(tags=["jobs"])


@router.get("/jobs", response=list[JobRowOut])
@only(*EVERYONE)
def get_jobs(request: MemberRequest) -> Any:
    """The firm's jobs, newest first, at most 100."""
    return [job_row(job) for job in list_jobs(request.firm)]


@router.get("/jobs/{int:job_id}", response=JobOut)
@only(*EVERYONE)
def read_job(request: MemberRequest, job_id: int) -> Any:
    """A job with its planned tasks by phase, hours and cautions."""
    view = job_view(get_job(request.firm, job_id))
    return view.pop("job") | view


@router.put("/jobs/{int:job_id}/days", response=JobRowOut)
@only(*OFFICE)
def set_days(request: MemberRequest, job_id: int, body: JobDaysIn) -> Any:
    """Say when the job starts and when it should be done."""
    get_job(request.firm, job_id)
    return job_row(set_job_days(firm=request.firm, job_id=job_id, **dict(body), **at_by(request)))
