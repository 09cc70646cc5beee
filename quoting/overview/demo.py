"""The demo firm: an invented scenario, made from readable files, the same on every machine."""

import tomllib
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

from django.db import transaction

from labour.firm.access import get_of
from labour.firm.models import Firm, Membership, Role, User, Worker
from labour.work.models import Job, JobKind
from quoting.agree.models import Contract
from quoting.engine.measure.rooms_file import load_document, read_rooms
from quoting.engine.pricing.values import Discount
from quoting.offer.models import Quote
from quoting.offer.rooms_quote import quote_rooms_file
from quoting.offer.services import QuoteDraft, send_quote
from quoting.overview.demo_closed import play_closed, play_work
from quoting.overview.demo_job import play_job, sign_demo_quote
from quoting.overview.demo_year import play_year
from quoting.overview.services import FIXTURES, open_firm
from quoting.past.files import read_table
from quoting.past.services import bring_table
from quoting.price.models import SalesTaxRow
from quoting.takeoff.queries import ScopeChoice

DEMO = FIXTURES / "demo"


def read_scenario() -> dict[str, Any]:
    """The scenario: firm, people, quotes."""
    return tomllib.loads((DEMO / "scenario.toml").read_text(encoding="utf-8"))


def find_demo_firm() -> Firm | None:
    """The demo firm, when it was made before."""
    name = read_scenario()["firm"]["name"]
    return Firm.objects.filter(name=name).order_by("id").first()


@transaction.atomic
def load_demo_firm(*, at: datetime) -> Firm:
    """Make the demo firm with its people, books and quotes; found again when it is there."""
    found = find_demo_firm()
    if found is not None:
        return found
    scenario = read_scenario()
    firm = Firm.objects.create(created_at=at, **scenario["firm"])
    for person in scenario["person"]:
        user = User.objects.create_user(person["email"], scenario["password"], first_name=person["name"])
        Membership.objects.create(firm=firm, user=user, role=Role(person["role"]))
    for worker in scenario["worker"]:
        Worker.objects.create(
            firm=firm,
            name=worker["name"],
            trade=worker["trade"],
            wage=Decimal(worker["wage"]),
            burden_percent=Decimal(worker["burden_percent"]),
        )
    for worker in Worker.objects.of(firm):
        worker.member = Membership.objects.filter(firm=firm, user__first_name=worker.name).first()
        worker.save(update_fields=["member"])
    owner = User.objects.get(membership__firm=firm, membership__role=Role.OWNER)
    open_firm(firm=firm, by=owner, at=at)
    for tax in scenario["tax"]:
        SalesTaxRow.objects.create(
            firm=firm, name=tax["name"], rate=Decimal(tax["rate"]), categories=tax["categories"]
        )
    play_year(firm=firm, owner=owner, now=at, file=DEMO / "year.toml")
    table = read_table((DEMO / "past-jobs.csv").read_bytes())
    bring_table(firm=firm, name="Two jobs from the old workbook", table=table, at=at, by=owner)
    quotes = [_load_quote(firm, owner, story, at) for story in scenario["quote"]]
    contract = play_job(quote=quotes[0], story=scenario["job"], owner=owner, now=at)
    play_work(contract=contract, story=scenario["worked"], owner=owner, now=at)
    _play_closed(firm, owner, scenario["closed"], at)
    return firm


def _load_quote(firm: Firm, owner: User, story: dict[str, Any], now: datetime) -> Quote:
    at = now - timedelta(days=story["days_ago"])
    rooms = read_rooms(load_document((DEMO / story["rooms"]).read_bytes()))
    draft = QuoteDraft(
        title=story["title"],
        rooms=rooms,
        choice=ScopeChoice(story["template"], options=frozenset(story.get("options", ()))),
        discount=Discount(percent=Decimal(story.get("discount_percent", "0"))),
    )
    quote = quote_rooms_file(firm=firm, draft=draft, at=at, by=owner)
    if story.get("sent"):
        return send_quote(firm=firm, quote_id=quote.pk, at=at, by=owner)
    return quote


def _play_closed(firm: Firm, owner: User, story: dict[str, Any], now: datetime) -> None:
    told = {"days_ago": story["quoted_days_ago"], "sent": True}
    quote = _load_quote(firm, owner, story | told, now)
    contract = sign_demo_quote(quote, story, now)
    play_closed(contract=contract, story=story, owner=owner, now=now)


def get_main_quote(firm: Firm) -> Quote:
    """The quote that the demo's papers are made from: the scenario's first."""
    title = read_scenario()["quote"][0]["title"]
    rows = Quote.objects.of(firm).select_related("survey__site__client", "paper", "firm")
    return rows.filter(title=title).order_by("id")[0]


def get_closed_job(firm: Firm) -> Job:
    """The demo's job that was closed."""
    return get_of(Job, firm, title=read_scenario()["closed"]["title"], kind=JobKind.AGREED)


def get_main_contract(firm: Firm) -> Contract:
    """The contract that the demo's job stands on: of the scenario's first quote."""
    return get_of(
        Contract, firm, "job", "client", "acceptance__quote", acceptance__quote=get_main_quote(firm)
    )
