"""Raising a change order with its photos in one go, so that none is half done."""

from collections.abc import Sequence
from datetime import datetime

from django.core.files.base import File
from django.db import transaction

from labour.engine.refusal import Problem
from labour.firm.models import Firm, User
from quoting.change.drafts import ChangeDraft
from quoting.change.models import ChangeOrder
from quoting.change.photos import MOST_BYTES, MOST_ON_PAPER
from quoting.change.services import BadPhoto, add_photo, attach_photos, raise_change_order

MOST_AT_ONCE = MOST_ON_PAPER


def read_uploads(uploads: "Sequence[File[bytes]]") -> list[bytes]:
    """The bytes of the files sent. Raise BadPhoto for too many or too large ones, before they are read."""
    if len(uploads) > MOST_AT_ONCE:
        raise BadPhoto(Problem("photos", f"Send at most {MOST_AT_ONCE} photos at once, not {len(uploads)}."))
    problems = [
        Problem(
            "photos",
            f"“{(upload.name or '')[:60]}” is larger than {MOST_BYTES // 1024**2} MB. Send it smaller.",
        )
        for upload in uploads
        if (upload.size or 0) > MOST_BYTES
    ]
    if problems:
        raise BadPhoto(*problems)
    return [upload.read() for upload in uploads]


@transaction.atomic
def raise_with_photos(
    *,
    firm: Firm,
    job_id: int,
    draft: ChangeDraft,
    photos: Sequence[bytes],
    ticket: str,
    at: datetime,
    by: User | None,
) -> ChangeOrder:
    """Price a change and keep it with its photos. Raise a Refusal; then nothing is kept.

    photos: files as sent. Asked again with the same ticket, the photos are not added twice.
    """
    change = raise_change_order(firm=firm, job_id=job_id, draft=draft, ticket=ticket, at=at, by=by)
    if photos and not change.photos.exists():
        kept = keep_photos(firm=firm, job_id=job_id, photos=photos, caption=draft.title, at=at, by=by)
        attach_photos(change, [*kept])
    return change


@transaction.atomic
def keep_photos(
    *, firm: Firm, job_id: int, photos: Sequence[bytes], caption: str, at: datetime, by: User | None
) -> list[int]:
    """Add photos to a job, all or none; their ids. Raise BadPhoto."""
    if not photos:
        raise BadPhoto(Problem("photos", "Choose at least one photo."))
    return [
        add_photo(firm=firm, job_id=job_id, upload=photo, caption=caption, at=at, by=by).pk
        for photo in photos
    ]
