"""The rooms form: what each room and the new client show, from a document and the problems found in it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from labour.engine.refusal import Problem
from quoting.engine.measure.room_format import MOST_ROOMS, ROOMS_FILE
from quoting.measure.form_fields import Choices, Filling, FormGroup
from quoting.measure.form_labels import CLIENT_GROUP, GROUPS, SITE_GROUP
from quoting.measure.form_paths import document_from, flatten
from quoting.measure.form_words import WordedProblem, in_words, room_name

_UNSEEN_OF_FIXTURE = {"tiled_under"}


@dataclass(frozen=True, slots=True)
class RoomForm:
    """One room. kept: what it holds and no field shows, sent along unseen, so that nothing is lost."""

    place: int
    name: str
    groups: tuple[FormGroup, ...]
    kept: tuple[tuple[str, str], ...]
    is_new: bool

    @property
    def path(self) -> str:
        """Where the room is in the document."""
        return f"rooms[{self.place}]"


@dataclass(frozen=True, slots=True)
class RoomsForm:
    """The whole form. who: the fields of a new client and site. problems: in words, leading to the fields."""

    rooms: tuple[RoomForm, ...]
    who: tuple[FormGroup, ...]
    problems: tuple[WordedProblem, ...]
    errors: Mapping[str, str]


def rooms_form(
    document: Mapping[str, Any],
    problems: Iterable[Problem] = (),
    spare: Mapping[str, int] | None = None,
    templates: Choices = (),
) -> RoomsForm:
    """The form for a document; one blank room when it has none.

    spare: see Filling; with "rooms" in it the last room is new.
    """
    found = tuple(problems)
    errors: dict[str, str] = {}
    for problem, worded in zip(found, in_words(found, document), strict=True):
        errors[problem.field] = f"{errors.get(problem.field, '')} {worded.message}".strip()
    filling = Filling(flatten(dict(document)), errors, spare or {}, templates)
    rooms = document.get("rooms")
    count = max(min(len(rooms), MOST_ROOMS) if isinstance(rooms, list) else 0, 1)
    shown = tuple(_room_form(filling, document, place, count) for place in range(count))
    who = (filling.group(CLIENT_GROUP, ""), filling.group(SITE_GROUP, ""))
    return RoomsForm(shown, who, in_words(found, document, _targets(shown, who)), errors)


def _room_form(filling: Filling, document: Mapping[str, Any], place: int, count: int) -> RoomForm:
    base = f"rooms[{place}]"
    groups = tuple(filling.group(plan, base) for plan in GROUPS)
    seen = {field.name for group in groups for row in group.rows for field in row.fields}
    inside = [name for name in filling.leaves if name.startswith(f"{base}.")]
    unseen = [name for name in inside if name not in seen]
    return RoomForm(
        place=place,
        name=room_name(document, place),
        groups=groups,
        kept=tuple((name, text) for name in unseen for text in _texts(filling.leaves[name])),
        is_new="rooms" in filling.spare and place == count - 1,
    )


def _targets(rooms: Iterable[RoomForm], who: tuple[FormGroup, ...]) -> dict[str, str]:
    """Ids by name: of every field, and of every group that problems may lead to."""
    targets = {"title": "title", "template": "template", "site": "site"}
    for room in rooms:
        targets |= {room.path: room.groups[0].id, f"{room.path}.outline": room.groups[0].id}
        targets |= _targets_in(room.groups)
    return targets | _targets_in(who)


def _targets_in(groups: tuple[FormGroup, ...]) -> dict[str, str]:
    fields = {field.name: field.id for group in groups for row in group.rows for field in row.fields}
    return fields | {group.more: group.id for group in groups if group.more}


def form_holds(document: Mapping[str, Any]) -> bool:
    """Whether the form can show the whole document; a document it can not hold is edited as text."""
    leaves = flatten(dict(document)).items()
    posted = {name: texts for name, value in leaves if (texts := _texts(value))}
    again = flatten(document_from(posted, ROOMS_FILE))
    return {name: _texts(value) for name, value in again.items()} == posted


def without_emptied_rows(document: dict[str, Any]) -> dict[str, Any]:
    """The document without fixtures of which only unseen parts are left: their fields were emptied."""
    rooms = document.get("rooms")
    for room in rooms if isinstance(rooms, list) else []:
        fixtures = room.get("fixtures") if isinstance(room, dict) else None
        if isinstance(fixtures, list):
            room["fixtures"] = [f for f in fixtures if not isinstance(f, dict) or set(f) - _UNSEEN_OF_FIXTURE]
    return document


def _texts(value: Any) -> list[str]:
    if isinstance(value, bool):
        return ["true" if value else "false"]
    return [str(item) for item in value] if isinstance(value, list) else [str(value)]
