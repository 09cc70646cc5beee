"""What a person does with a quote: make it, change it, price it again, send it."""

from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.db.models import Q
from django.shortcuts import get_object_or_404
from django.utils import timezone

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import AuditLine, Firm, User
from quoting.clients.models import Site
from quoting.documents.services import issue_paper, take_number
from quoting.engine.estimate import Estimate
from quoting.engine.measure.rooms_file import RoomsFile
from quoting.engine.pricing.values import Discount
from quoting.measure.queries import get_house, get_rooms
from quoting.measure.services import replace_rooms, save_survey
from quoting.offer.changes import follow_renames, read_changes
from quoting.offer.models import Quote, Status
from quoting.offer.paper import paper_of
from quoting.offer.queries import estimate_rooms, figures_for
from quoting.price.queries import get_price_settings
from quoting.takeoff.queries import ScopeChoice


class CannotMakeQuote(Refusal):
    """The quote can not be made from what was given."""


class CannotChangeQuote(Refusal):
    """A quote that was sent stays as it is."""


class CannotSendQuote(Refusal):
    """The quote is not fit to be sent."""


NO_DISCOUNT = Discount()


@dataclass(frozen=True, slots=True)
class QuoteDraft:
    """What a quote is made from. changes: as stored, see `changes.read_changes`."""

    title: str
    rooms: RoomsFile
    choice: ScopeChoice
    changes: dict[str, Any] = field(default_factory=dict)
    discount: Discount = NO_DISCOUNT


@transaction.atomic
def create_quote(*, firm: Firm, site: Site, draft: QuoteDraft, at: datetime, by: User | None) -> Quote:
    """Measure, price and keep a new draft. Refuses with every problem named; then nothing is kept."""
    _check_title(draft.title)
    house = get_house(site)
    changes = read_changes(draft.changes, draft.choice.options)
    rooms = [room for room, _ in draft.rooms.rooms]
    priced = estimate_rooms(firm, house, rooms, draft.choice, changes, draft.discount)
    survey = save_survey(firm=firm, site=site, rooms_file=draft.rooms, on=timezone.localdate(at))
    quote = Quote(
        firm=firm,
        number=take_number(firm=firm, series="quote", prefix="Q-"),
        title=draft.title.strip(),
        survey=survey,
        created_at=at,
        created_by=by,
    )
    _keep(quote, draft, figures_for(firm, house, priced, draft.rooms.notes), priced, at)
    note(quote, "made quote", at, by)
    return quote


@transaction.atomic
def change_quote(*, firm: Firm, quote_id: int, draft: QuoteDraft, at: datetime, by: User | None) -> Quote:
    """Give a draft other rooms, scope, changes or discount, and price it again."""
    _check_title(draft.title)
    quote = lock_draft(firm, quote_id)
    before = [view["name"] for view in quote.figures["rooms"]]
    after = [room.name for room, _ in draft.rooms.rooms]
    draft = replace(draft, changes=follow_renames(draft.changes, before, after))
    replace_rooms(survey=quote.survey, rooms_file=draft.rooms)
    quote.title = draft.title.strip()
    price_draft(quote, draft, at)
    note(quote, "changed quote", at, by)
    return quote


@transaction.atomic
def reprice_quote(
    *, firm: Firm, quote_id: int, at: datetime, by: User | None, shown: Decimal | None = None
) -> Quote:
    """Price a draft again with today's rates and prices.

    shown: the total that was looked at before it is taken; another one is refused.
    """
    quote = lock_draft(firm, quote_id)
    before = quote.total
    price_draft(quote, draft_of(quote), at)
    if shown is not None and quote.total != shown:
        words = f"Prices changed meanwhile: the total would be {quote.total:,}, not {shown:,}. Look again."
        raise CannotChangeQuote(Problem("total", words))
    note(quote, "priced quote again", at, by, before=str(before), after=str(quote.total))
    return quote


@transaction.atomic
def send_quote(*, firm: Firm, quote_id: int, at: datetime, by: User | None) -> Quote:
    """Freeze a draft as an offer: its PDF is made once and kept. Refuses while a price is missing.

    Offers that it revises are superseded: from then on only this one can be accepted.
    """
    family = lock_family(firm, quote_id)
    quote = lock_draft(firm, quote_id)
    earlier = _open_offers(family)
    missing = quote.figures["firm_view"]["missing_prices"]
    if missing:
        raise CannotSendQuote(
            *(
                Problem(name, "has no price. Enter it in Materials, then price the quote again.")
                for name in missing
            )
        )
    quote.valid_until = timezone.localdate(at) + timedelta(days=get_price_settings(firm).valid_days)
    quote.status, quote.sent_at = Status.SENT, at
    quote.paper = issue_paper(firm=firm, draft=paper_of(quote, at), at=at)
    quote.save()
    note(quote, "sent quote", at, by, sha256=quote.paper.sha256)
    for offer in earlier:
        offer.status = Status.SUPERSEDED
        offer.save(update_fields=["status"])
        note(offer, "superseded quote", at, by, superseded_by=quote.number)
    return quote


def lock_family(firm: Firm, quote_id: int) -> list[Quote]:
    """The quote with all its revisions, oldest first, locked until the transaction ends, or 404."""
    asked = get_object_or_404(Quote.objects.of(firm).only("first"), pk=quote_id)
    first = asked.first_id or asked.pk
    rows = Quote.objects.of(firm).select_for_update(of=("self",)).filter(Q(pk=first) | Q(first=first))
    return list(rows.select_related("survey__site__client", "firm").order_by("id"))


def _open_offers(family: list[Quote]) -> list[Quote]:
    """The offers that wait for an answer. Refuses when one of the family was accepted."""
    accepted = next((row for row in family if row.status == Status.ACCEPTED), None)
    if accepted is not None:
        raise CannotSendQuote(f"{accepted.number} was accepted. Change it by a change order on its job.")
    return [row for row in family if row.status == Status.SENT]


def draft_of(quote: Quote) -> QuoteDraft:
    """What a quote was made from, read back."""
    return QuoteDraft(
        title=quote.title,
        rooms=get_rooms(quote.survey),
        choice=ScopeChoice.from_json(quote.scope),
        changes=quote.changes,
        discount=Discount(quote.discount_percent, quote.discount_amount),
    )


def price_draft(quote: Quote, draft: QuoteDraft, at: datetime) -> None:
    """Work out a locked draft's figures anew and keep them."""
    changes = read_changes(draft.changes, draft.choice.options)
    house = get_house(quote.survey.site)
    rooms = [room for room, _ in draft.rooms.rooms]
    priced = estimate_rooms(quote.firm, house, rooms, draft.choice, changes, draft.discount)
    _keep(quote, draft, figures_for(quote.firm, house, priced, draft.rooms.notes), priced, at)


def _keep(quote: Quote, draft: QuoteDraft, figures: dict[str, Any], priced: Estimate, at: datetime) -> None:
    quote.scope, quote.changes = draft.choice.to_json(), draft.changes
    quote.discount_percent, quote.discount_amount = draft.discount.percent, draft.discount.amount
    quote.figures, quote.total, quote.priced_at = figures, priced.price.total, at
    quote.missing_prices = len(figures["firm_view"]["missing_prices"])
    quote.save()


def lock_draft(firm: Firm, quote_id: int) -> Quote:
    """The firm's quote, locked until the transaction ends; refuses one that was sent."""
    rows = (
        Quote.objects.of(firm).select_for_update(of=("self",)).select_related("survey__site__client", "firm")
    )
    quote: Quote = get_object_or_404(rows, pk=quote_id)
    if not quote.is_draft:
        raise CannotChangeQuote(
            f"{quote.number} was sent and stays as it is. Revise it, or copy it, to offer something else."
        )
    return quote


def _check_title(title: str) -> None:
    if not 1 <= len(title.strip()) <= 120 or not title.strip().isprintable():
        raise CannotMakeQuote(Problem("title", "Give the quote a title of 1 to 120 plain characters."))


def note(quote: Quote, action: str, at: datetime, by: User | None, **detail: str) -> None:
    """Keep who did what to the quote, and when."""
    AuditLine.objects.create(
        firm=quote.firm, at=at, by=by, action=action, subject=quote.number, detail=detail
    )
