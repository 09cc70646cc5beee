"""Readings of surveys: a survey or a site comes in; its measured rooms and its house go out."""

from dataclasses import replace
from typing import Any

from labour.firm.access import get_of
from labour.firm.models import Firm
from quoting.clients.models import Site
from quoting.engine.measure.room import House
from quoting.engine.measure.room_format import FORMAT
from quoting.engine.measure.rooms_file import RoomsFile, read_rooms
from quoting.measure.models import Survey


def get_survey(firm: Firm, pk: int) -> Survey:
    """The firm's survey with its site and client, or 404."""
    return get_of(Survey, firm, "site__client", pk=pk)


def get_house(site: Site) -> House:
    """The site as measuring sees it."""
    return House(site.year_built, site.is_occupied, site.storeys_to_carry)


def get_rooms(survey: Survey) -> RoomsFile:
    """The survey's rooms, read back from what was typed; house, client and site as they stand now."""
    document = {"format": FORMAT, "rooms": list_definitions(survey)}
    client = survey.site.client
    return replace(
        read_rooms(document),
        house=get_house(survey.site),
        client={
            "name": client.name, "email": client.email, "phone": client.phone, "address": client.address
        },
        site={"address": survey.site.address},
    )  # fmt: skip


def list_definitions(survey: Survey) -> list[dict[str, Any]]:
    """The rooms as they were typed, in order."""
    return [row.definition for row in survey.rooms.order_by("position")]
