"""Links to an offer: made, sent, withdrawn."""

from collections.abc import Callable
from datetime import datetime, time, timedelta

from django.db import transaction
from django.utils import timezone

from labour.engine.refusal import Refusal
from labour.firm.models import AuditLine, Firm, User
from quoting.agree.letters import write_offer_letter
from quoting.agree.models import OfferLink
from quoting.agree.queries import get_link, get_shown_paper
from quoting.agree.tokens import new_nonce, token_of
from quoting.offer.models import Quote
from quoting.offer.queries import get_quote

DAYS_AFTER = 90
"""So long after its last day an offer can still be opened, so that the client finds the signed copy."""


class CannotMakeLink(Refusal):
    """There is nothing yet that a client could be shown."""


@transaction.atomic
def make_link(*, firm: Firm, quote_id: int, at: datetime, by: User | None) -> OfferLink:
    """A secret address of a sent quote. Raise CannotMakeLink."""
    quote = get_quote(firm, quote_id)
    if quote.is_draft:
        raise CannotMakeLink(f"{quote.number} is a draft: freeze it as an offer first.")
    if not get_shown_paper(quote).context:
        raise CannotMakeLink(f"{quote.number} was sent before there were links. Revise it and send that.")
    link: OfferLink = OfferLink.objects.create(
        firm=firm, quote=quote, nonce=new_nonce(), created_at=at, created_by=by, expires_at=_end_of(quote, at)
    )
    _note(link, "made link to quote", at, by)
    return link


@transaction.atomic
def revoke_link(*, firm: Firm, quote_id: int, link_id: int, at: datetime, by: User | None) -> OfferLink:
    """Close a link for good. Withdrawing it twice changes nothing."""
    link = get_link(firm, quote_id, link_id)
    if link.revoked_at is None:
        link.revoked_at = at
        link.save(update_fields=["revoked_at"])
        _note(link, "withdrew link to quote", at, by)
    return link


@transaction.atomic
def send_offer_link(
    *, firm: Firm, quote_id: int, to: str, at: datetime, by: User | None, address_of: Callable[[str], str]
) -> OfferLink:
    """Write to the client with a new link and the paper. address_of: the whole address for a token.

    Raise CannotMakeLink, or CannotWriteLetter for a bad address; then no link is made.
    """
    link = make_link(firm=firm, quote_id=quote_id, at=at, by=by)
    write_offer_letter(link.quote, to, address_of(token_of(link)), at, by)
    return link


def _end_of(quote: Quote, at: datetime) -> datetime:
    last = max(quote.valid_until or timezone.localdate(at), timezone.localdate(at))
    return timezone.make_aware(datetime.combine(last + timedelta(days=DAYS_AFTER), time()))


def _note(link: OfferLink, action: str, at: datetime, by: User | None) -> None:
    AuditLine.objects.create(firm=link.firm, at=at, by=by, action=action, subject=link.quote.number)
