"""An acceptance that was signed on paper, recorded by the office."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, datetime, time

from django.db import transaction
from django.utils import timezone

from labour.engine.refusal import Problem
from labour.firm.models import Firm, User
from quoting.agree.models import Contract
from quoting.agree.queries import get_shown_paper
from quoting.agree.refusals import CannotAcceptQuote
from quoting.agree.services import accept_quote
from quoting.agree.signing import Evidence, Signature
from quoting.offer.queries import get_quote


@dataclass(frozen=True, slots=True)
class SignedPaper:
    """What the office knows of it. how: words on how it was signed."""

    name: str
    signed_on: date
    how: str
    options: Collection[str] = ()


@transaction.atomic
def record_acceptance(
    *, firm: Firm, quote_id: int, signed: SignedPaper, ticket: str, at: datetime, by: User
) -> Contract:
    """Turn an offer that was signed on paper into a contract. Raise CannotAcceptQuote and the like."""
    quote = get_quote(firm, quote_id)
    if quote.is_draft:
        raise CannotAcceptQuote(f"{quote.number} was not sent yet: send it first.")
    name, how = _plain("name", signed.name, 120), _plain("how", signed.how, 200)
    evidence = Evidence(name, Signature(on_paper=how), _moment_of(signed.signed_on, at))
    return accept_quote(
        quote=quote,
        options=signed.options,
        evidence=evidence,
        shown_sha256=get_shown_paper(quote).sha256,
        ticket=ticket,
        at=at,
        by=by,
    )


def _moment_of(day: date, at: datetime) -> datetime:
    """Now, when it was today; noon of the day otherwise, for a paper tells no hour."""
    if day == timezone.localdate(at):
        return at
    return timezone.make_aware(datetime.combine(day, time(12)))


def _plain(field: str, text: str, most: int) -> str:
    words = text.strip()
    if not 2 <= len(words) <= most or not words.isprintable():
        raise CannotAcceptQuote(Problem(field, f"Write 2 to {most} plain characters."))
    return words
