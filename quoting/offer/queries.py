"""Readings over quotes: pricing without saving, one quote, lists of quotes."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Q, QuerySet

from labour.engine.refusal import Problem, Refusal
from labour.firm.access import get_of
from labour.firm.models import Firm, Units
from labour.plan.queries import planner_of
from labour.ratebook.queries import get_rate_book
from quoting.catalogue.queries import get_catalogue
from quoting.clients.models import Site
from quoting.engine.estimate import Books, Changes, Estimate, RoomScope, estimate
from quoting.engine.figures import figures_of
from quoting.engine.measure.room import House, Room
from quoting.engine.pricing.milestones import split_milestones
from quoting.engine.pricing.money import LARGEST
from quoting.engine.pricing.values import Discount
from quoting.offer.models import Quote, Status
from quoting.price.queries import get_price_policy, get_price_settings, milestones_of
from quoting.takeoff.queries import ScopeChoice, check_options, get_room_scopes

PAGE_SIZE = 25
MOST_SITES = 500
"""So many sites are offered in a list of choices."""
_LISTED = (
    *("number", "title", "status", "total", "missing_prices", "created_at", "valid_until", "firm_id"),
    *("survey__site_id", "survey__site__client__name", "first", "revision", "sent_at"),
)
EXPIRED = "expired"
STANDINGS = {
    "draft": "Draft",
    "sent": "Sent",
    "accepted": "Accepted",
    "declined": "Declined",
    EXPIRED: "Expired",
    "superseded": "Superseded",
}
"""Where a quote may stand on a day, and the words for it; see `Quote.standing`."""


class BadEstimate(Refusal):
    """A price that can not be meant."""


def get_books(firm: Firm) -> Books:
    """The firm's rate book, catalogue and price policy as they stand now."""
    return Books(get_rate_book(firm), get_catalogue(firm), get_price_policy(firm))


def estimate_rooms(
    firm: Firm,
    house: House,
    rooms: Sequence[Room],
    choice: ScopeChoice,
    changes: Changes,
    discount: Discount,
) -> Estimate:
    """Price rooms with today's books, saving nothing. Refuses what can not be priced."""
    scopes: tuple[RoomScope, ...] = get_room_scopes(firm, house, rooms, choice)
    check_options(scopes, changes.options)
    priced = estimate(scopes, get_books(firm), changes, discount, planner_of(firm))
    if priced.price.total > LARGEST:
        words = f"The price comes to {priced.price.total:,}. Look for a slip in a quantity, rate or price."
        raise BadEstimate(Problem("total", words))
    return priced


def figures_for(firm: Firm, house: House, priced: Estimate, notes: Sequence[str] = ()) -> dict[str, Any]:
    """The estimate as stored text, with the firm's payment schedule. notes: what measuring evened out."""
    settings = get_price_settings(firm)
    figures = figures_of(
        priced,
        year_built=house.year_built,
        metric=firm.units == Units.METRIC,
        crew_day=settings.crew_size * settings.day_hours,
    )
    figures["client_view"]["milestones"] = [
        {"name": part.name, "percent": str(part.percent), "amount": str(part.amount)}
        for part in split_milestones(priced.price.total, milestones_of(settings))
    ]
    figures["notes"] = [*notes, *priced.notes]
    return figures


def get_quote(firm: Firm, quote_id: int) -> Quote:
    """The firm's quote with its client and site, or 404."""
    return get_of(Quote, firm, "survey__site__client", "paper", pk=quote_id)


@dataclass(frozen=True, slots=True)
class FoundQuotes:
    """One page of quotes, newest first. older: the `before` of the next page, None when there is none."""

    rows: list[Quote]
    older: int | None


def list_quotes(
    firm: Firm, *, before: int | None = None, search: str = "", standing: str = "", on: date | None = None
) -> FoundQuotes:
    """The newest quotes, one page; `before` is the id that the page before ended on.

    standing: only those that stand so on the day `on`; a code of STANDINGS, or "" for all of them.
    """
    rows: QuerySet[Quote] = Quote.objects.of(firm).select_related("survey__site__client")
    rows = rows.only(*_LISTED).order_by("-id")
    if search:
        rows = (
            rows.filter(title__icontains=search)
            | rows.filter(survey__site__client__name__icontains=search)
            | rows.filter(number__icontains=search)
        )
    if standing and on is not None:
        rows = rows.filter(_stands(standing, on))
    if before is not None:
        rows = rows.filter(id__lt=before)
    found = list(rows[: PAGE_SIZE + 1])
    older = found[PAGE_SIZE - 1].pk if len(found) > PAGE_SIZE else None
    return FoundQuotes(found[:PAGE_SIZE], older)


def list_sites_to_choose(firm: Firm) -> list[Site]:
    """The firm's sites by client, as many as a list can hold."""
    sites = Site.objects.of(firm).select_related("client").order_by("client__name", "id")
    return list(sites[:MOST_SITES])


def list_revisions(quote: Quote) -> list[Quote]:
    """The quote with all its other revisions, oldest first; without their figures."""
    first = quote.first_id or quote.pk
    rows: QuerySet[Quote] = Quote.objects.of(quote.firm).filter(Q(pk=first) | Q(first=first))
    rows = rows.select_related("survey__site__client").defer("figures", "changes", "scope")
    return list(rows.order_by("revision"))


def _stands(standing: str, on: date) -> Q:
    """The quotes that stand so on a day; an unknown standing is nobody's."""
    if standing == EXPIRED:
        return Q(status=Status.SENT, valid_until__lt=on)
    if standing == Status.SENT:
        return Q(status=Status.SENT) & ~Q(valid_until__lt=on)
    return Q(status=standing)
