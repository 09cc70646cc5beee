"""The life of a quote before agreement: revised, copied, declined; its revisions as one family.

Comes in: the firm, the number of a quote, the moment and the person. Goes out: the changed or new quote, or a
refusal with nothing written.
"""

from datetime import datetime
from decimal import Decimal

from django.db import transaction
from django.shortcuts import get_object_or_404

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm, User
from quoting.clients.models import Site
from quoting.engine.pricing.money import read_money
from quoting.measure.queries import get_rooms
from quoting.measure.services import save_survey
from quoting.offer.models import Quote, Status
from quoting.offer.services import create_quote, draft_of, lock_family, note

LONGEST_WHY = 400
_KEPT = (
    *("title", "scope", "changes", "discount_percent", "discount_amount"),
    *("figures", "total", "missing_prices", "priced_at"),
)


class CannotReviseQuote(Refusal):
    """The quote is not at a point where another revision may be made."""


class CannotDeclineQuote(Refusal):
    """The quote does not wait for an answer."""


@transaction.atomic
def revise_quote(*, firm: Firm, quote_id: int, at: datetime, by: User | None) -> Quote:
    """A new draft from an offer that was sent, declined or has run out: same rooms, scope and prices.

    The earlier offer stays open until the revision is sent. An accepted quote is changed by a change order.
    """
    family = lock_family(firm, quote_id)
    quote = next(row for row in family if row.pk == quote_id)
    _refuse_revision(quote, family)
    first, revision = family[0], 1 + max(row.revision for row in family)
    survey = save_survey(
        firm=firm,
        site=quote.survey.site,
        rooms_file=get_rooms(quote.survey),
        on=quote.survey.measured_on,
    )
    revised: Quote = Quote.objects.create(
        firm=firm,
        number=f"{first.number}-R{revision}",
        survey=survey,
        first=first,
        revision=revision,
        created_at=at,
        created_by=by,
        **{name: getattr(quote, name) for name in _KEPT},
    )
    note(revised, "revised quote", at, by, revises=quote.number)
    return revised


@transaction.atomic
def copy_quote(
    *, firm: Firm, quote_id: int, site: Site | None = None, at: datetime, by: User | None
) -> Quote:
    """A new draft with a number of its own, at today's prices. site: where, the same house without one."""
    quote = _lock_quote(firm, quote_id)
    where = quote.survey.site if site is None else site
    copied = create_quote(firm=firm, site=where, draft=draft_of(quote), at=at, by=by)
    if where == quote.survey.site:
        copied.survey.measured_on = quote.survey.measured_on
        copied.survey.save(update_fields=["measured_on"])
    note(copied, "copied quote", at, by, copy_of=quote.number)
    return copied


@transaction.atomic
def decline_quote(*, firm: Firm, quote_id: int, why: str, at: datetime, by: User | None) -> Quote:
    """The client says no. why: their words, if any. by: None when they say so on their own page."""
    quote = _lock_quote(firm, quote_id)
    if quote.status != Status.SENT:
        words = f"{quote.number} is {quote.get_status_display().lower()}; only an offer that was sent"
        raise CannotDeclineQuote(f"{words} can be declined.")
    quote.declined_why = _read_why(why)
    quote.status, quote.decided_at = Status.DECLINED, at
    quote.save(update_fields=["status", "decided_at", "declined_why"])
    note(quote, "declined quote", at, by, why=quote.declined_why)
    return quote


def read_shown(text: str) -> Decimal | None:
    """The total that a page showed, or None where it showed none. Raise BadMoney."""
    return read_money(text, "total") if text.strip() else None


def _lock_quote(firm: Firm, quote_id: int) -> Quote:
    rows = Quote.objects.of(firm).select_for_update(of=("self",))
    quote: Quote = get_object_or_404(rows.select_related("survey__site__client", "firm"), pk=quote_id)
    return quote


def _refuse_revision(quote: Quote, family: list[Quote]) -> None:
    """Say why there can be no further revision, and what to do instead."""
    accepted = next((row for row in family if row.status == Status.ACCEPTED), None)
    draft = next((row for row in family if row.is_draft), None)
    if accepted is not None:
        raise CannotReviseQuote(f"{accepted.number} was accepted. Change it by a change order on its job.")
    if quote.is_draft:
        raise CannotReviseQuote(f"{quote.number} is a draft still: change it as it is.")
    if draft is not None:
        raise CannotReviseQuote(f"There is a draft already, {draft.number}: change that one, or send it.")
    if quote.status == Status.SUPERSEDED:
        newest = max(family, key=lambda row: row.revision)
        raise CannotReviseQuote(f"{quote.number} was superseded. Revise {newest.number} instead.")


def _read_why(why: str) -> str:
    words = " ".join(why.split())
    if len(words) > LONGEST_WHY or not words.isprintable():
        raise CannotDeclineQuote(Problem("why", f"Write at most {LONGEST_WHY} plain characters, or nothing."))
    return words
