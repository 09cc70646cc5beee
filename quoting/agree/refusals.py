"""Whether an offer may still be accepted: each reason against it in words fit for the client."""

from datetime import datetime

from django.utils import timezone

from labour.engine.refusal import Problem, Refusal
from quoting.agree.models import Acceptance
from quoting.agree.queries import find_acceptance
from quoting.documents.filters import long_date
from quoting.offer.models import Quote, Status


class CannotAcceptQuote(Refusal):
    """The offer does not stand as it was shown, or not any more."""


def check_acceptable(quote: Quote, shown_sha256: str, signed_at: datetime, at: datetime) -> None:
    """Raise CannotAcceptQuote. signed_at: decides whether the offer had run out. at: now."""
    if words := _why_not(quote, signed_at):
        raise CannotAcceptQuote(words)
    if quote.paper is None or shown_sha256 != quote.paper.sha256:
        words = "What was shown is no longer the offer. Open it again and read it before you sign."
        raise CannotAcceptQuote(Problem("shown_sha256", words))
    if signed_at > at:
        raise CannotAcceptQuote(Problem("signed_on", "The day of signing can not lie ahead."))
    if quote.sent_at and timezone.localdate(signed_at) < timezone.localdate(quote.sent_at):
        words = f"The day of signing can not lie before {_day(quote.sent_at)}, when the offer was sent."
        raise CannotAcceptQuote(Problem("signed_on", words))


def told(acceptance: Acceptance) -> str:
    """Who accepted and when."""
    return f"{acceptance.quote.number} was accepted by {acceptance.name} on {_day(acceptance.signed_at)}."


def _why_not(quote: Quote, signed_at: datetime) -> str:
    standing = quote.standing(timezone.localdate(signed_at))
    if standing == Status.ACCEPTED:
        acceptance = find_acceptance(quote)
        return told(acceptance) if acceptance else f"{quote.number} was accepted already."
    words = {
        Status.DRAFT: f"{quote.number} was not sent yet: send it first.",
        Status.DECLINED: f"{quote.number} was declined. Ask for a new offer.",
        Status.SUPERSEDED: f"A newer offer replaces {quote.number}. Ask for the newer one.",
        "expired": f"{quote.number} ran out after {long_date(quote.valid_until)}. Ask for a new offer.",
    }
    return words.get(standing, "")


def _day(moment: datetime) -> str:
    return long_date(timezone.localdate(moment))
