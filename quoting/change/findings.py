"""What the crew found: measured, photographed, and left as a draft for the office. No price goes back."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from django.db import transaction

from labour.engine.refusal import Problem
from labour.firm.models import Firm, User
from labour.firm.once import find_done, keep_done
from quoting.agree.models import Contract
from quoting.agree.queries import lock_contract
from quoting.change.drafts import BadChangeOrder, ChangeDraft
from quoting.change.keeping import note, start_change
from quoting.change.models import ChangeOrder, Reason
from quoting.change.photos import add_photo, attach_photos
from quoting.change.pricing import measured_rooms
from quoting.change.queries import change_templates, get_change

_ACTION = "report finding"


@dataclass(frozen=True, slots=True)
class Finding:
    """What turned up. reason: code of `Reason`. finding: in words. room: of the contract, "" for the house.

    template: slug of a change template; empty leaves the lines to the office. extent: "area", "length",
    "count" as typed. photos: uploaded files.
    """

    reason: str
    finding: str
    room: str = ""
    template: str = ""
    extent: Mapping[str, str] = field(default_factory=dict)
    photos: Sequence[bytes] = ()


@transaction.atomic
def report_finding(
    *, firm: Firm, job_id: int, finding: Finding, ticket: str, at: datetime, by: User | None
) -> ChangeOrder:
    """Make a draft of what was found, with its photos; the same ticket gives the same one.

    Raise Http404 without a contract, a Refusal naming every field; then nothing is kept, photos neither.
    """
    contract = lock_contract(firm, job_id=job_id)
    done = find_done(firm, ticket, _ACTION)
    if done is not None:
        return get_change(firm, done)
    _check(finding, contract)
    change = start_change(contract, _draft_of(finding, firm), at, by)
    photos = [
        add_photo(firm=firm, job_id=job_id, upload=upload, caption="", at=at, by=by)
        for upload in finding.photos
    ]
    attach_photos(change, [photo.pk for photo in photos])
    keep_done(firm, ticket, _ACTION, change.pk, at)
    note(change, "reported finding", at, by, reason=change.reason, photos=str(len(photos)))
    return change


def _draft_of(finding: Finding, firm: Firm) -> ChangeDraft:
    lines = [_line_of(finding)] if finding.template else []
    names = {template.slug: template.name for template in change_templates(firm)}
    what = names.get(finding.template) or Reason(finding.reason).label
    title = f"{what}, {finding.room}" if finding.room else what
    return ChangeDraft(title=title[:120], reason=finding.reason, finding=_words_of(finding), lines=lines)


def _line_of(finding: Finding) -> dict[str, Any]:
    extent = {name: finding.extent.get(name, "") for name in ("area", "length", "count")}
    return {"kind": "template", "room": finding.room, "template": finding.template} | extent


def _words_of(finding: Finding) -> str:
    """Without a template the extent would be lost: it stands behind the words."""
    measured = [f"{name} {text.strip()}" for name, text in finding.extent.items() if text.strip()]
    if finding.template or not measured:
        return finding.finding.strip()
    return f"{finding.finding.strip()}\nMeasured: {', '.join(measured)}."


def _check(finding: Finding, contract: Contract) -> None:
    """What the draft's own checks would name by fields that the crew does not see."""
    problems = []
    if finding.reason not in Reason.values:
        problems.append(Problem("reason", f"Choose what it is: {', '.join(Reason.labels)}."))
    if not finding.finding.strip() or len(finding.finding) > 1900:
        problems.append(Problem("finding", "Say what you found, in at most 1,900 characters."))
    rooms = measured_rooms(contract)
    if finding.room not in rooms and (finding.room or finding.template):
        problems.append(Problem("room", f"Choose the room: {', '.join(rooms)}."))
    if finding.template:
        slugs = {template.slug for template in change_templates(contract.firm)}
        if finding.template not in slugs:
            problems.append(Problem("template", "Choose one of the offered kinds of damage, or none."))
    if problems:
        raise BadChangeOrder(*problems)
