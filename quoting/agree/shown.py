"""What the client's page of an offer is given: only what stands on the paper that was issued."""

from collections.abc import Collection, Mapping
from datetime import datetime
from decimal import Decimal
from secrets import token_hex
from typing import Any

from django.utils import timezone

from quoting.agree.executed import wording_of
from quoting.agree.models import OfferLink
from quoting.agree.queries import find_acceptance, get_shown_paper
from quoting.agree.tokens import token_of
from quoting.offer.models import Quote, Status

_KEPT = ("firm", "client", "site", "quote", "view", "terms")


def offer_view(link: OfferLink, at: datetime) -> dict[str, Any]:
    """The offer as it was frozen, where it stands, and what may be done with it."""
    quote = link.quote
    paper = get_shown_paper(quote)
    standing = quote.standing(timezone.localdate(at))
    return {name: paper.context[name] for name in _KEPT} | {
        "token": token_of(link),
        "standing": standing,
        "is_open": standing == Status.SENT,
        "acceptance": find_acceptance(quote),
        "declined_at": quote.decided_at,
        "shown_sha256": paper.sha256,
    }


def form_view(quote: Quote, names: Collection[str], posted: Mapping[str, str]) -> dict[str, Any]:
    """The form under the offer, with these options ticked. posted: what was sent before, or nothing."""
    options = quote.figures["client_view"]["options"]
    return {
        "options": [option | {"ticked": option["name"] in names} for option in options],
        "chosen_total": str(chosen_total(quote, names)),
        "wording": wording_of(quote),
        "posted": posted,
        "ticket": posted.get("ticket", "") or token_hex(16),
    }


def chosen_total(quote: Quote, names: Collection[str]) -> Decimal:
    """What the offer comes to with the ticked options that have a price, tax included."""
    view = quote.figures["client_view"]
    taken = (option for option in view["options"] if option["name"] in names and not option["missing"])
    return sum((Decimal(option["total"]) for option in taken), Decimal(view["total"]))
