"""The crew's setting-out sheet as a paper: a takeoff comes in, PDF goes out. It knows no prices."""

import re
from collections.abc import Callable, Mapping, Sequence
from datetime import datetime
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from quoting.documents.fonts import printable
from quoting.documents.paper import render_paper
from quoting.engine.takeoff import Takeoff
from quoting.engine.taking_off.document import document_of
from quoting.engine.taking_off.drawings import Drawing, drawings_of, other_drawings
from quoting.engine.taking_off.values import RoomTaken

type _Shown = Callable[[Drawing, float], SafeString]

TEMPLATE = "documents/setting_out.html"
NO_FIRM = {"name": "", "address": "", "phone": "", "email": "", "licence_text": ""}

_FACES = ("niche", "curb", "bench")
_SCALE = 0.8
_HIGH, _LOW, _SMALL = 560.0, 400.0, 190.0
"""Most height of a drawing below a table, of two on a page, and of one beside others, px."""

_SIZE = re.compile(r'width="(?P<wide>[0-9.]+)" height="(?P<high>[0-9.]+)"')
_PAGE_FONT, _PAPER_FONT = "font-family=\"Barlow, 'Segoe UI', sans-serif\"", 'font-family="Barlow Paper"'


def setting_out_pdf(takeoff: Takeoff, firm: Mapping[str, Any], *, paper: str, at: datetime) -> bytes:
    """The sheet of all rooms. firm: what a letterhead says, or NO_FIRM. at: its date in the file."""
    context = {**setting_out_context(takeoff, _on_paper), "firm": dict(firm), "at": at}
    return render_paper(TEMPLATE, context, paper=paper)


def on_page(drawing: Drawing, most: float) -> SafeString:
    """A drawing as it is, for a page. Drawings escape every text that people typed."""
    return mark_safe(drawing.svg)  # noqa: S308


def setting_out_context(takeoff: Takeoff, shown: _Shown = on_page) -> dict[str, Any]:
    """Each room with its plan, its surfaces with their drawings, its steps and rules; cautions.

    shown: makes markup of a drawing and the height it may have on paper.
    """
    document, drawings = document_of(takeoff), drawings_of(takeoff)
    rooms = [
        _room(number, taken, room, [d for d in drawings if d.room == room["name"]], shown)
        for number, (taken, room) in enumerate(zip(takeoff.rooms, document["rooms"], strict=True), 1)
    ]
    shared = {key: document[key] for key in ("cautions", "general_caution", "tiles", "notes")}
    return {"title": ", ".join(room["name"] for room in rooms), "rooms": rooms, **shared}


def anchor_of(number: int, key: str) -> str:
    """Id of a surface on its page. number: of the room among the quote's, from 1."""
    return f"laid-{number}-{key}"


def _room(
    number: int, taken: RoomTaken, room: Mapping[str, Any], drawings: Sequence[Drawing], shown: _Shown
) -> dict[str, Any]:
    by_key = {drawing.key: drawing for drawing in drawings if drawing.key}
    plan, *elevations = (drawing for drawing in drawings if not drawing.key)
    others = {laid.surface.key: other_drawings(number, taken, laid) for laid in taken.surfaces}
    return {
        "name": room["name"],
        "number": number,
        "units": room["units"],
        "plan": shown(plan, _HIGH),
        "elevations": [shown(elevation, _LOW) for elevation in elevations],
        "steps": room["steps"],
        "rules": _rules(room["surfaces"]),
        "surfaces": [
            surface
            | {"drawing": shown(by_key[surface["key"]], _HIGH), "anchor": anchor_of(number, surface["key"])}
            | {"others": _others(surface, others[surface["key"]], shown), "is_same": _is_same(surface)}
            for surface in _merged(room["surfaces"])
        ],
    }


def _others(surface: Mapping[str, Any], drawings: Sequence[Drawing], shown: _Shown) -> list[dict[str, Any]]:
    """The ways to lay a surface that are compared, each with its small drawing."""
    found = zip(surface["layout"]["alternatives"], drawings, strict=True)
    return [other | {"drawing": shown(drawing, _SMALL)} for other, drawing in found]


def _is_same(surface: Mapping[str, Any]) -> bool:
    """Whether all the ways that are compared are how the surface is laid."""
    return all(other["is_laid"] for other in surface["layout"]["alternatives"])


def _merged(surfaces: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """Faces of niches, curbs and benches that are laid alike, as one with all their names and keys."""
    found: list[dict[str, Any]] = []
    for surface in surfaces:
        alike = [one for one in found if surface["kind"] in _FACES and _same(one, surface)]
        if alike:
            alike[0]["name"] += f"; {surface['name']}"
            alike[0]["keys"].append(surface["key"])
        else:
            found.append(dict(surface) | {"keys": [surface["key"]]})
    return found


def _same(one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    return all(one[key] == other[key] for key in ("kind", "width", "height", "holes", "choice", "layout"))


def _rules(surfaces: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """Each rule once, with the surfaces that it is said of; broken ones first."""
    found: dict[str, dict[str, Any]] = {}
    for surface in surfaces:
        for advice in surface["advice"]:
            rule = found.setdefault(advice["words"], {**advice, "surfaces": []})
            rule["surfaces"].append(surface["name"])
    rules = sorted(found.values(), key=lambda rule: not rule["broken"])
    for rule in rules:
        everywhere = len(rule["surfaces"]) == len(surfaces)
        rule["where"] = "" if everywhere else ", ".join(rule["surfaces"])
    return rules


def _on_paper(drawing: Drawing, most: float) -> SafeString:
    """A drawing in the paper's own font, smaller than on a page, and at most so high, px."""
    svg = printable(drawing.svg).replace(_PAGE_FONT, _PAPER_FONT, 1)
    if size := _SIZE.search(svg):
        scale = min(_SCALE, most / float(size["high"]))
        wide, high = float(size["wide"]) * scale, float(size["high"]) * scale
        svg = svg.replace(size[0], f'width="{wide:.0f}" height="{high:.0f}"', 1)
    return mark_safe(svg)  # noqa: S308
