"""The price of a change under a contract: rows and today's books come in, figures go out; nothing is kept."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.db.models import Sum

from labour.engine.refusal import Problem
from labour.engine.scope import RoomFigures, ScopeTemplate
from labour.firm.models import Firm, Units
from labour.plan.queries import list_templates, planner_of
from quoting.agree.models import Contract
from quoting.agree.queries import get_contract
from quoting.change.drafts import MOST_DAYS, BadChangeOrder, ChangeDraft, check_draft
from quoting.change.models import ChangeOrder, Pricing
from quoting.change.queries import agreed_with, settled_keys
from quoting.engine.change_lines import read_lines
from quoting.engine.change_view import (
    Crew,
    Standing,
    client_view_of_change,
    days_of,
    effect_of,
    firm_view_of_change,
)
from quoting.engine.changing import Terms, price_lines_of_change
from quoting.engine.measure.quantities import measure_room
from quoting.engine.pricing.money import ZERO
from quoting.measure.queries import get_rooms
from quoting.offer.queries import get_books
from quoting.price.queries import get_price_settings


@dataclass(frozen=True, slots=True)
class Priced:
    """What a change order keeps of its price."""

    figures: dict[str, Any]
    total: Decimal
    hours: Decimal
    days: int


def preview_change(firm: Firm, job_id: int, draft: ChangeDraft) -> dict[str, Any]:
    """The figures of a draft, as they would be stored; nothing is kept. Raises the same refusals."""
    check_draft(draft)
    return price_change(get_contract(firm, job_id), draft).figures


def price_change(contract: Contract, draft: ChangeDraft, leaving_out: ChangeOrder | None = None) -> Priced:
    """Price a draft with today's books. leaving_out: the change order that the draft is of."""
    firm, site = contract.firm, contract.acceptance.quote.survey.site
    asked = read_lines(draft.lines, metric=firm.units == Units.METRIC)
    terms = _terms_of(contract, leaving_out)
    priced = price_lines_of_change(asked, terms, planner_of(firm))
    settings = get_price_settings(firm)
    days, why = days_of(priced, Crew(settings.crew_size, settings.day_hours), draft.days)
    if days > MOST_DAYS:
        words = f"{priced.hours:,} hours are {days:,} working days; look for a slip in a quantity or rate."
        raise BadChangeOrder(Problem("days", words))
    ceiling = draft.pricing == Pricing.NOT_TO_EXCEED
    view = client_view_of_change(priced, not_to_exceed=ceiling, year_built=site.year_built)
    total = priced.amounts.total
    figures = {
        "client_view": view | effect_of(total, days, standing_of(contract)),
        "firm_view": firm_view_of_change(priced) | {"days_why": why.texts()},
        "days_by_hand": draft.days is not None,
    }
    return Priced(figures, total, priced.hours, days)


def with_effect(change: ChangeOrder) -> dict[str, Any]:
    """The change's figures with contract sum and finish as they stand now; its price stays."""
    effect = effect_of(change.total, change.days, standing_of(change.contract))
    figures: dict[str, Any] = change.figures
    return figures | {"client_view": figures["client_view"] | effect}


def standing_of(contract: Contract) -> Standing:
    """Contract sum with every approved change, and the finish that the firm means to keep."""
    total = contract.parts.aggregate(total=Sum("total"))["total"]
    return Standing(ZERO if total is None else total, contract.job.finish_on)


def _terms_of(contract: Contract, leaving_out: ChangeOrder | None) -> Terms:
    return Terms(
        agreed=agreed_with(contract),
        books=get_books(contract.firm),
        rooms=measured_rooms(contract),
        templates=_templates(contract.firm),
        gone=settled_keys(contract, leaving_out),
    )


def measured_rooms(contract: Contract) -> dict[str, RoomFigures]:
    """The rooms of the accepted quote, measured again from what was written down, by name."""
    rooms = get_rooms(contract.acceptance.quote.survey)
    return {room.name: measure_room(room, rooms.house) for room, _ in rooms.rooms}


def _templates(firm: Firm) -> dict[str, ScopeTemplate]:
    return {template.slug: template for template in list_templates(firm)}
