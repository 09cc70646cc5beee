"""Sending a change order to the client: frozen, a private address made, a letter written; and taking it back.

address: where the site is reached from outside, such as "https://office.example.com/".
"""

from datetime import datetime, timedelta

from django.db import transaction
from django.urls import reverse
from django.utils import timezone

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import AuditLine, Firm, User
from quoting.agree.tokens import new_nonce, token_of
from quoting.change.models import ChangeLink, ChangeOrder, ChangeStatus
from quoting.change.queries import get_change
from quoting.change.services import send_change_order
from quoting.documents.filters import money
from quoting.documents.letters import write_letter

OPEN_FOR = timedelta(days=60)
_OPEN = (ChangeStatus.SENT, ChangeStatus.APPROVED)


class CannotMakeLink(Refusal):
    """There is nothing yet that the client could be shown."""


@transaction.atomic
def send_to_client(*, firm: Firm, change_id: int, address: str, at: datetime, by: User | None) -> ChangeLink:
    """Freeze a draft, make its link, and write to the client when an e-mail address is known."""
    change = send_change_order(firm=firm, change_id=change_id, at=at, by=by)
    link = make_change_link(firm=firm, change_id=change_id, at=at, by=by)
    to = change.contract.client.email
    if to and change.paper is not None:
        write_letter(
            firm=firm,
            about=f"change order {change.number}",
            to=[to],
            subject=f"Change order {change.number}: {change.title}"[:160],
            body=_words(change, link, address),
            papers=[change.paper],
            at=at,
            by=by,
        )
    return link


@transaction.atomic
def make_change_link(*, firm: Firm, change_id: int, at: datetime, by: User | None) -> ChangeLink:
    """A new private address of a sent change order; earlier ones stop working. Raise CannotMakeLink."""
    change = get_change(firm, change_id)
    if change.status not in _OPEN:
        stands = change.get_status_display().lower()
        words = f"{change.number} is {stands}; only a sent or approved one has a link."
        raise CannotMakeLink(Problem("status", words))
    revoke_change_links(firm=firm, change_id=change_id, at=at, by=by)
    link: ChangeLink = ChangeLink.objects.create(
        firm=firm, change=change, nonce=new_nonce(), created_at=at, created_by=by, expires_at=at + OPEN_FOR
    )
    AuditLine.objects.create(firm=firm, at=at, by=by, action="made change link", subject=change.number)
    return link


@transaction.atomic
def revoke_change_links(*, firm: Firm, change_id: int, at: datetime, by: User | None) -> int:
    """Close every open link of a change order; how many were closed."""
    change = get_change(firm, change_id)
    closed: int = ChangeLink.objects.of(firm).filter(change=change, revoked_at=None).update(revoked_at=at)
    if closed:
        AuditLine.objects.create(firm=firm, at=at, by=by, action="closed change link", subject=change.number)
    return closed


def find_open_link(change: ChangeOrder, at: datetime) -> ChangeLink | None:
    """The newest link that still works."""
    rows = ChangeLink.objects.of(change.firm).filter(change=change, revoked_at=None, expires_at__gt=at)
    link: ChangeLink | None = rows.order_by("-id").first()
    return link


def address_of(link: ChangeLink, address: str) -> str:
    """The whole address that the client opens."""
    return address.rstrip("/") + reverse("public-change", kwargs={"token": token_of(link)})


def _words(change: ChangeOrder, link: ChangeLink, address: str) -> str:
    """The letter: what it is about, what it comes to, where to answer."""
    job, firm = change.contract.job, change.firm
    until = timezone.localdate(link.expires_at)
    return (
        f"Hello {change.contract.client.name},\n\n"
        f"on your job {job.number}, {job.title}, something has to change: {change.title} "
        f"({change.get_reason_display().lower()}).\n\n"
        f"Change order {change.number} comes to {money(change.total, firm.currency)} with tax. "
        "Please read it and approve or decline it here:\n\n"
        f"{address_of(link, address)}\n\n"
        f"The link is yours alone and works until {until:%B} {until.day}, {until.year}. "
        "The same paper is attached.\n\n"
        f"{firm.name}\n"
    )
