"""Pages of jobs for everyone of the firm: what is to be done, when, and what can hurt. No prices."""

from django.http import HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from labour.firm.access import EVERYONE, MemberRequest, page
from labour.work.queries import get_job, list_jobs
from labour.work.shown import job_view


@page(*EVERYONE)
@require_safe
def jobs(request: MemberRequest) -> HttpResponse:
    """The jobs, newest first."""
    return render(request, "work/jobs.html", {"jobs": list_jobs(request.firm)})


@page(*EVERYONE)
@require_safe
def job(request: MemberRequest, job_id: int) -> HttpResponse:
    """One job: its days, tasks by phase with hours, cautions."""
    return render(request, "work/job.html", job_view(get_job(request.firm, job_id)))
