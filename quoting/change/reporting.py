"""A finding whose photos are with the job already: reported and shown together, or not at all."""

from collections.abc import Sequence
from datetime import datetime

from django.db import transaction

from labour.firm.models import Firm, User
from quoting.change.models import ChangeOrder
from quoting.change.services import Finding, attach_photos, report_finding


@transaction.atomic
def report_with_photos(
    *,
    firm: Firm,
    job_id: int,
    finding: Finding,
    photo_ids: Sequence[int],
    ticket: str,
    at: datetime,
    by: User | None,
) -> ChangeOrder:
    """Make a draft of what was found, with photos of the job. Raise a Refusal; then nothing is kept.

    Asked again with the same ticket, the draft is given as it stands.
    """
    change = report_finding(firm=firm, job_id=job_id, finding=finding, ticket=ticket, at=at, by=by)
    if change.is_draft and photo_ids:
        attach_photos(change, photo_ids)
    return change
