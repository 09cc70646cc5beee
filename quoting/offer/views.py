"""What the quote's templates are given, made from its stored figures."""

from collections.abc import Iterable
from datetime import date
from itertools import groupby
from typing import Any

from labour.engine.vocabulary import Phase
from quoting.measure.plan_drawing import draw_plan
from quoting.measure.queries import get_rooms
from quoting.offer.forms import DiscountForm
from quoting.offer.line_names import name_keys
from quoting.offer.models import Quote
from quoting.offer.queries import STANDINGS, list_revisions


def quote_view(quote: Quote, on: date) -> dict[str, Any]:
    """The quote's page: phases with the firm's lines, totals, options, its other revisions. on: today."""
    figures = quote.figures
    firm_view, client_view = figures["firm_view"], figures["client_view"]
    numbered = [line | {"index": index} for index, line in enumerate(firm_view["lines"])]
    taken = set(quote.scope["options"])
    return {
        "quote": quote,
        "standing": quote.standing(on),
        "stands": STANDINGS[quote.standing(on)],
        "revisions": _revisions(quote, on),
        "options": _options(firm_view, client_view),
        "client": quote.survey.site.client,
        "site": quote.survey.site,
        "phases": _by_phase(numbered, client_view["phases"]),
        "view": client_view,
        "firm_view": firm_view,
        "several_rooms": len(client_view["rooms"]) > 1,
        "left_out": _left_out(quote),
        "changed": set(quote.changes.get("quantities", {})),
        "taken_options": sorted(taken),
        "discount_form": DiscountForm(
            initial={"percent": quote.discount_percent, "amount": quote.discount_amount}
        ),
    }


def _options(firm_view: dict[str, Any], client_view: dict[str, Any]) -> list[dict[str, Any]]:
    """What the client reads of each option, with the firm's hours, its lines and what goes for it."""
    words = {line["key"]: f"{line['room']}: {line['name']}" for line in firm_view["lines"]}
    firms = {option["name"]: option for option in firm_view.get("options", ())}
    shown = []
    for option in client_view["options"]:
        of_firm = firms.get(option["name"], {})
        credits = [row | {"words": words.get(row["key"], row["key"])} for row in of_firm.get("credits", ())]
        kept = {name: of_firm.get(name) for name in ("hours", "works")}
        shown.append(option | kept | {"credits": credits})
    return shown


def listed(quotes: Iterable[Quote], on: date) -> list[dict[str, Any]]:
    """Quotes of a list, each with where it stands on the day, as a code and in words."""
    return [
        {"quote": quote, "standing": quote.standing(on), "stands": STANDINGS[quote.standing(on)]}
        for quote in quotes
    ]


def _revisions(quote: Quote, on: date) -> list[dict[str, Any]]:
    """All revisions, oldest first; nothing while there is only one."""
    family = list_revisions(quote)
    return listed(family, on) if len(family) > 1 else []


def _left_out(quote: Quote) -> list[dict[str, str]]:
    keys = quote.changes.get("left_out")
    named = name_keys(quote.firm, keys) if keys else {}
    return [{"key": key, "words": words} for key, words in named.items()]


def _by_phase(lines: list[dict[str, Any]], phases: list[dict[str, Any]]) -> list[dict[str, Any]]:
    amounts = {phase["phase"]: phase["amount"] for phase in phases}
    ordered = sorted(lines, key=lambda line: Phase(line["phase"]).position)
    return [
        {"label": Phase(phase).label, "amount": amounts[phase], "lines": list(group)}
        for phase, group in groupby(ordered, key=lambda line: line["phase"])
    ]


def rooms_view(quote: Quote) -> dict[str, Any]:
    """The rooms as they were measured, each with its sketch."""
    drawings = {room.name: draw_plan(room) for room, _ in get_rooms(quote.survey).rooms}
    rooms = [room | {"drawing": drawings.get(room["name"])} for room in quote.figures["rooms"]]
    return {"quote": quote, "rooms": rooms}


def line_view(quote: Quote, line: dict[str, Any], index: int) -> dict[str, Any]:
    """One line's why, with the materials that it uses."""
    uses = [
        {"name": material["name"], "why": use["why"]}
        for material in quote.figures["firm_view"]["materials"]
        for use in material["uses"]
        if use["line"] == line["key"]
    ]
    by_hand = quote.changes.get("quantities", {}).get(line["key"])
    return {"quote": quote, "line": line, "index": index, "uses": uses, "by_hand": by_hand}


def work_sheet_view(quote: Quote) -> dict[str, Any]:
    """The crew's sheet: only what holds no price, picked field by field."""
    names = ("room", "name", "quantity", "unit", "cure_hours", "phase", "licence")
    lines = [
        {name: line[name] for name in names} | {"hours": line["hours"] and line["hours"]["hours"]}
        for line in quote.figures["firm_view"]["lines"]
        if line["hours"] is not None
    ]
    ordered = sorted(lines, key=lambda line: Phase(line["phase"]).position)
    return {
        "quote": quote,
        "site": quote.survey.site,
        "client_name": quote.survey.site.client.name,
        "hours": quote.figures["firm_view"]["hours"],
        "rooms": quote.figures["rooms"],
        "phases": [
            {"label": Phase(phase).label, "lines": list(group)}
            for phase, group in groupby(ordered, key=lambda line: line["phase"])
        ],
        "cautions": quote.figures["client_view"]["cautions"],
        "general_caution": quote.figures["client_view"]["general_caution"],
    }
