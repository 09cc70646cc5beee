"""From a rooms file straight to a quote: its client and site are found or made, then priced."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime
from typing import Any

from django.db import transaction

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm, User
from quoting.clients.models import Site
from quoting.clients.services import add_client, add_site
from quoting.engine.measure.rooms_file import RoomsFile
from quoting.offer.models import Quote
from quoting.offer.services import QuoteDraft, create_quote


@transaction.atomic
def quote_rooms_file(*, firm: Firm, draft: QuoteDraft, at: datetime, by: User | None) -> Quote:
    """Make a quote from a rooms file that names its client and site."""
    rooms = draft.rooms
    by_room = {str(d["name"]): str(d["template"]) for _, d in rooms.rooms if d.get("template")}
    choice = replace(draft.choice, by_room=by_room | dict(draft.choice.by_room))
    site = _find_or_add_site(firm, rooms, at, by)
    return create_quote(firm=firm, site=site, draft=replace(draft, choice=choice), at=at, by=by)


def _find_or_add_site(firm: Firm, rooms: RoomsFile, at: datetime, by: User | None) -> Site:
    named: dict[str, Any] = {"name": "Client not named", "email": "", "phone": "", "address": ""}
    named |= rooms.client
    address = str(rooms.site.get("address") or named["address"] or "Site not named")
    found = Site.objects.of(firm).filter(client__name=named["name"], address=address).first()
    if found is not None:
        return found
    with _problems_of("client"):
        client = add_client(firm=firm, by=by, at=at, **named)
    with _problems_of("site"):
        return add_site(
            client=client,
            address=address,
            year_built=rooms.house.year_built,
            is_occupied=rooms.house.occupied,
            storeys_to_carry=rooms.house.storeys_to_carry,
            notes="",
            by=by,
            at=at,
        )


@contextmanager
def _problems_of(part: str) -> Iterator[None]:
    """Name the fields of a refusal by their path in the rooms file."""
    try:
        yield
    except Refusal as refusal:
        raise type(refusal)(*(Problem(f"{part}.{p.field}", p.message) for p in refusal.problems)) from None
