"""An offer of the hall bath that was sent, its link, and a client who signs it."""

from datetime import datetime, timedelta
from typing import Any

from django.utils import timezone

from labour.firm.models import Firm, User
from quoting.agree.links import make_link
from quoting.agree.models import Contract, OfferLink
from quoting.agree.services import accept_quote
from quoting.agree.signing import Evidence, Signature
from quoting.agree.tokens import token_of
from quoting.offer.models import Quote
from quoting.offer.services import send_quote
from tests.hall_firm import make_hall_firm, make_hall_quote
from tests.makers import AT

SENT = AT + timedelta(days=1)
SIGNED = AT + timedelta(days=3)
STROKES = (((100, 100), (200, 120), (300, 80)), ((350, 90), (420, 140)))


def send_offer(name: str = "Harbor Lane Baths") -> tuple[Quote, User]:
    """The hall bath's quote of a firm with an e-mail address, sent; and the owner."""
    firm, owner = make_hall_firm(name)
    Firm.objects.filter(pk=firm.pk).update(email="office@example.com", phone="555-0142")
    firm.refresh_from_db()
    quote = make_hall_quote(firm, owner)
    return send_quote(firm=firm, quote_id=quote.pk, at=SENT, by=owner), owner


def keep_open(quote: Quote) -> Quote:
    """The offer as if it was sent yesterday: open today, whatever the day."""
    now = timezone.now()
    quote.valid_until, quote.sent_at = timezone.localdate(now) + timedelta(days=9), now - timedelta(days=1)
    quote.save()
    return quote


def link_to(quote: Quote, at: datetime = SENT) -> OfferLink:
    """A link to the offer."""
    return make_link(firm=quote.firm, quote_id=quote.pk, at=at, by=None)


def address_of(link: OfferLink) -> str:
    """Where the client opens it."""
    return f"/offer/{token_of(link)}/"


def evidence(at: datetime = SIGNED, name: str = "Ada Brook") -> Evidence:
    """Ada Brook's signature, drawn."""
    return Evidence(name, Signature(strokes=STROKES), at, "192.0.2.7", "Test browser")


def accept(quote: Quote, *options: str, **changed: Any) -> Contract:
    """The client accepts what was shown, with these options."""
    asked: dict[str, Any] = {
        "quote": quote,
        "options": options,
        "evidence": evidence(),
        "shown_sha256": quote.paper.sha256 if quote.paper else "",
        "ticket": "",
        "at": SIGNED,
    }
    return accept_quote(**asked | changed)
