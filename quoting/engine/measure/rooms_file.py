"""The rooms file: text or a document comes in; measured rooms with the document's own words go out.

Format "screedbook-rooms-1", JSON, described by rooms_schema(). Everything wrong is reported at once.
"""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import isfinite
from typing import Any, NoReturn

from labour.engine.refusal import Problem, Refusal
from quoting.engine.measure.fields import Fields, Report
from quoting.engine.measure.room import House, Room
from quoting.engine.measure.room_checks import check_room
from quoting.engine.measure.room_format import CLIENT, ROOMS_FILE, SITE, UNITS
from quoting.engine.measure.room_reading import read_room
from quoting.engine.measure.rooms_schema import rooms_schema

__all__ = ["BadRooms", "RoomsFile", "load_document", "read_rooms", "rooms_schema"]

type RoomWithDefinition = tuple[Room, dict[str, Any]]

LIMIT = 1_000_000
DEEPEST = 30
_TOO_DEEP = f"Lists and objects are nested too deep; at most {DEEPEST} levels are read."


class BadRooms(Refusal):
    """The rooms can not be used. Each problem has the path to its field ("rooms[0].openings[1].width")."""


@dataclass(frozen=True, slots=True)
class RoomsFile:
    """A rooms document that was read.

    rooms: each with its definition: the document's own object, with its units written in, so that it can be
    read again by itself. client and site: the texts given. notes: what was evened out.
    """

    house: House
    rooms: tuple[RoomWithDefinition, ...]
    client: Mapping[str, str]
    site: Mapping[str, Any]
    notes: tuple[str, ...] = ()


def load_document(text: str | bytes, limit: int = LIMIT) -> object:
    """Read JSON. Raise BadRooms, naming line and column, for text that is too large, broken or not finite."""
    if len(text) > limit:
        raise BadRooms(f"The file has {len(text):,} bytes; at most {limit:,} are read.")
    if isinstance(text, bytes):
        try:
            text = text.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            raise BadRooms(
                f"The file is not UTF-8 text (byte {error.start + 1}). Save it as UTF-8."
            ) from None
    try:
        return json.loads(text, parse_constant=_refuse_number, parse_float=_finite, object_pairs_hook=_once)
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}"
        raise BadRooms(f"This is not JSON: {error.msg} at {place}.") from None
    except RecursionError:
        raise BadRooms(_TOO_DEEP) from None
    except ValueError:
        raise BadRooms("The file holds a number of too many digits.") from None


def read_rooms(document: object) -> RoomsFile:
    """Read a document as load_document or an API gives it. Raise BadRooms with every problem found."""
    _refuse_deep(document)
    report = Report()
    fields = Fields(ROOMS_FILE, document, "", report)
    fields.choice("format")
    units = fields.choice("units", "us")
    report.unit = UNITS[units]
    house, site = _read_site(fields)
    client = _read_client(fields)
    rooms, notes = _read_list(fields, units)
    if report.problems:
        raise BadRooms(*report.problems)
    return RoomsFile(house, rooms, client, site, notes)


def _read_list(fields: Fields, units: str) -> tuple[tuple[RoomWithDefinition, ...], tuple[str, ...]]:
    report = fields.report
    found: list[RoomWithDefinition] = []
    notes: list[str] = []
    names: dict[str, str] = {}
    for path, raw in fields.items("rooms"):
        before = len(report.problems)
        room, note = read_room(raw, path, report)
        if room.name.casefold() in names:
            report.add(f"{path}.name", f"{names[room.name.casefold()]} has this name too; give each its own.")
        names.setdefault(room.name.casefold(), path)
        if len(report.problems) == before:
            report.problems += check_room(room, path)
            found.append((room, {"units": units, **raw}))
            notes += [f"{room.name}: {note}"] * bool(note)
    return tuple(found), tuple(notes)


def _read_client(fields: Fields) -> dict[str, str]:
    if not fields.has("client"):
        return {}
    client = Fields(CLIENT, fields.raw["client"], "client", fields.report)
    return {name: client.text(name) for name in CLIENT.fields if client.has(name)}


def _read_site(fields: Fields) -> tuple[House, dict[str, Any]]:
    site = Fields(SITE, fields.raw.get("site", {}), "site", fields.report)
    house = House(
        year_built=site.find_whole("year_built"),
        occupied=site.flag("occupied", default=True),
        storeys_to_carry=site.whole("storeys_to_carry", 0),
    )
    return house, {"address": site.text("address")} | dict(site.raw)


def _refuse_deep(document: object) -> None:
    level = [document]
    for _ in range(DEEPEST):
        level = [inner for outer in level for inner in _contents(outer)]
    if level:
        raise BadRooms(_TOO_DEEP)


def _contents(value: object) -> Iterable[object]:
    if isinstance(value, dict):
        return value.values()
    return value if isinstance(value, list) else ()


def _refuse_number(name: str) -> NoReturn:
    raise BadRooms(Problem("", f"The file holds {name}, which is no number. Write a length like 62.5."))


def _finite(text: str) -> float:
    number = float(text)
    return number if isfinite(number) else _refuse_number(text[:40])


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise BadRooms(Problem(twice[:80], "This field is written twice in one object; keep one."))
    return found
