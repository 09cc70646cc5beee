"""Depths of a floor that is to be levelled: kept in a draft's survey, with what they take."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from django.db import transaction

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm, User
from quoting.catalogue.queries import get_catalogue
from quoting.engine.measure.lengths import System
from quoting.engine.taking_off.laying import lay_room
from quoting.engine.taking_off.lengths import floors_of
from quoting.engine.taking_off.levelled import RoomLevelled, room_levelled
from quoting.engine.taking_off.values import Wanted
from quoting.measure.services import replace_rooms
from quoting.offer.models import Quote
from quoting.offer.room_definitions import find_room, with_definition
from quoting.offer.services import draft_of, lock_draft, note, price_draft


class CannotKeepDepths(Refusal):
    """Depths are of no use in this room."""


@dataclass(frozen=True, slots=True)
class DepthsKept:
    """The quote, priced again, and what levelling the room takes. system: in which the room was written."""

    quote: Quote
    levelled: RoomLevelled
    system: System


@transaction.atomic
def keep_floor_depths(
    *,
    firm: Firm,
    quote_id: int,
    room: str,
    points: Sequence[Mapping[str, str]],
    at: datetime,
    by: User | None,
) -> DepthsKept:
    """Put these points in the place of a room's depths, and price the draft again.

    points: x, y and depth as typed; none takes the depths away. Refuses, naming the point ("depths[2].x"),
    what is no length or has two depths; a room without tiled floor; a quote that was sent.
    """
    quote = lock_draft(firm, quote_id)
    draft = draft_of(quote)
    number = find_room(draft.rooms, room)
    rooms = with_definition(draft.rooms, number, "depths", [dict(point) for point in points])
    measured, definition = rooms.rooms[number]
    system: System = "metric" if definition["units"] == "metric" else "us"
    taken = lay_room(measured, rooms.house, Wanted(), system)
    if points and not floors_of(taken):
        raise CannotKeepDepths(Problem("depths", f"“{room}” has no tiled floor to level."))
    levelled = room_levelled(taken, get_catalogue(firm))
    replace_rooms(survey=quote.survey, rooms_file=rooms)
    price_draft(quote, replace(draft, rooms=rooms), at)
    note(quote, "kept floor depths", at, by, room=room, points=str(len(points)))
    return DepthsKept(quote, levelled, system)
