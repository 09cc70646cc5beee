"""The firm whose books are those of `tests/hall_bath.py`, made through the services, and its quotes."""

from copy import deepcopy
from datetime import timedelta
from decimal import Decimal
from typing import Any

from labour.firm.models import Firm, Role, User
from labour.firm.services import add_worker, finish_set_up
from labour.plan.services import load_templates
from labour.ratebook.services import load_rate_book
from quoting.catalogue.services import load_catalogue
from quoting.clients.models import Site
from quoting.clients.services import add_client, add_site
from quoting.engine.measure.rooms_file import read_rooms
from quoting.engine.pricing.values import Discount
from quoting.offer.models import Quote
from quoting.offer.services import QuoteDraft, create_quote
from quoting.price.checks import QuoteTerms
from quoting.price.services import save_price_settings, start_price_settings
from quoting.takeoff.queries import ScopeChoice
from tests.hall_bath import (
    MATERIALS,
    MILESTONES,
    PLUMBER_COST,
    PRICE_RULES,
    ROOMS,
    RULES,
    SLUG,
    TASKS,
    TAXES,
    TEMPLATE,
)
from tests.makers import AT, make_firm, make_member

LATER = AT + timedelta(days=1)


def make_hall_firm(name: str = "Harbor Lane Baths") -> tuple[Firm, User]:
    """A firm with the hall bath's books, and its owner."""
    firm = make_firm(name, set_up=False)
    owner = make_member(firm, Role.OWNER)
    asked: dict[str, Any] = {"firm": firm, "by": owner, "at": AT}
    # 32.00 + 25 % = 40.00 and 48.00 + 25 % = 60.00: an hour costs 50.00 on average.
    add_worker(name="Sam", trade="Tile", wage=Decimal(32), burden_percent=Decimal(25), **asked)
    add_worker(name="Kim", trade="Tile", wage=Decimal(48), burden_percent=Decimal(25), **asked)
    load_rate_book(firm=firm, tasks=TASKS)
    load_catalogue(firm=firm, materials=MATERIALS, rules=RULES)
    codes = {material.code for material in MATERIALS}
    load_templates(firm=firm, templates=[TEMPLATE], items=codes, tasks={task.code: task for task in TASKS})
    start_price_settings(firm=firm)
    terms = QuoteTerms(PLUMBER_COST, None, 30, True, "Paid in three parts.", MILESTONES)
    save_price_settings(rules=PRICE_RULES, settings=terms, taxes=TAXES, **asked)
    finish_set_up(**asked)
    return firm, owner


def make_hall_site(firm: Firm, owner: User) -> Site:
    """The house of the hall bath."""
    client = add_client(
        firm=firm, name="Ada Brook", email="ada@example.com", phone="", address="", at=AT, by=owner
    )
    return add_site(
        client=client, address="4 Wharf Row", year_built=1972, is_occupied=True, storeys_to_carry=1,
        notes="", at=AT, by=owner,
    )  # fmt: skip


def make_draft(percent: str = "0", **changes: Any) -> QuoteDraft:
    """What the hall bath's quote is made from. changes: as stored on a quote."""
    return QuoteDraft(
        title="Hall bath, new tile",
        rooms=read_rooms(hall_rooms()),
        choice=ScopeChoice(SLUG),
        changes=changes,
        discount=Discount(percent=Decimal(percent)),
    )


def make_hall_quote(firm: Firm, owner: User, percent: str = "0") -> Quote:
    """The hall bath's quote, a draft. percent: discount."""
    site = make_hall_site(firm, owner)
    return create_quote(firm=firm, site=site, draft=make_draft(percent), at=AT, by=owner)


def hall_rooms(**changes: Any) -> dict[str, Any]:
    """A rooms document of the hall bath of one's own; changes replace fields of its room."""
    document = deepcopy(ROOMS)
    document["rooms"][0] |= changes
    return document
