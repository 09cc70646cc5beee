"""Routes for everyone on a job: its photos, and findings from the site. No price is given here."""

from typing import Any

from django.http import HttpResponse
from ninja import File, Form, Router, Status
from ninja.files import UploadedFile

from labour.firm.access import EVERYONE, MemberRequest, get_of
from labour.firm.api_access import at_by, only
from quoting.agree.models import Photo
from quoting.agree.queries import get_contract
from quoting.change.photo_answers import photo_answer
from quoting.change.raising import read_uploads
from quoting.change.reporting import report_with_photos
from quoting.change.schemas import FindingIn, PhotoOut, ReportedOut
from quoting.change.services import Finding, add_photo

router = Router(tags=["changes"])

_JPEG: dict[str, Any] = {"responses": {200: {"content": {"image/jpeg": {}}}}}


@router.get("/jobs/{int:job_id}/photos", response=list[PhotoOut])
@only(*EVERYONE)
def get_photos(request: MemberRequest, job_id: int) -> Any:
    """The job's photos, newest first."""
    return list(get_contract(request.firm, job_id).photos.defer("jpeg").order_by("-id"))


@router.post("/jobs/{int:job_id}/photos", response={201: PhotoOut})
@only(*EVERYONE)
def add_job_photo(
    request: MemberRequest, job_id: int, photo: File[UploadedFile], caption: Form[str] = ""
) -> Any:
    """Keep a photo of the job, sent as multipart form: made smaller, without where it was taken."""
    (upload,) = read_uploads([photo])
    asked = {"firm": request.firm, "job_id": job_id, **at_by(request)}
    return Status(201, add_photo(upload=upload, caption=caption, **asked))


@router.get("/photos/{int:photo_id}.jpg", openapi_extra=_JPEG)
@only(*EVERYONE)
def read_photo(request: MemberRequest, photo_id: int) -> HttpResponse:
    """A photo's bytes."""
    return photo_answer(get_of(Photo, request.firm, pk=photo_id))


@router.post("/jobs/{int:job_id}/findings", response={201: ReportedOut})
@only(*EVERYONE)
def report_finding(request: MemberRequest, job_id: int, body: FindingIn) -> Any:
    """Say what turned up; the office gets a draft to price and send."""
    extent = {"area": body.area, "length": body.length, "count": body.count}
    finding = Finding(body.reason, body.finding, body.room, body.template, extent)
    asked = {"firm": request.firm, "job_id": job_id, "ticket": body.ticket, **at_by(request)}
    return Status(201, report_with_photos(finding=finding, photo_ids=body.photos, **asked))
