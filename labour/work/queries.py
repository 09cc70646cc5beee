"""Readings of jobs as the crew sees them."""

from labour.firm.access import get_of
from labour.firm.models import Firm
from labour.work.models import Job


def get_job(firm: Firm, job_id: int) -> Job:
    """The firm's job, or 404."""
    return get_of(Job, firm, pk=job_id)


def list_jobs(firm: Firm, *, most: int = 100) -> list[Job]:
    """The firm's jobs, newest first."""
    return list(Job.objects.of(firm).order_by("-id")[:most])
