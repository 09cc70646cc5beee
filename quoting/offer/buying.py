"""What a quote's buying list shows, from its stored figures: materials, and the day they are needed on."""

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from itertools import groupby
from typing import Any

from labour.engine.vocabulary import Phase
from quoting.engine.needed_on import Crew, LineOfWork, date_of, days_of_lines, first_day
from quoting.offer.models import Quote
from quoting.price.queries import get_price_settings

BY_DAY = "day"


def buying_view(quote: Quote, by: str = "") -> dict[str, Any]:
    """What to buy, grouped by supplier, or by the day it is needed on."""
    rows = purchases_of(quote)
    by_day = by == BY_DAY
    return {"quote": quote, "by_day": by_day, "groups": grouped(rows, by_day=by_day), "shows_prices": True}


def purchases_of(quote: Quote, starts_on: date | None = None) -> list[dict[str, Any]]:
    """The stored purchases by supplier and name, each with the working day it is needed from, and its date.

    needed_day: None where no line of the quote uses it. needed_on: ISO text, only with starts_on. The crew is
    as the firm says now.
    """
    firm_view = quote.figures["firm_view"]
    settings = get_price_settings(quote.firm)
    crew = Crew(settings.crew_size, settings.day_hours)
    days = days_of_lines([_work_of(line) for line in firm_view["lines"]], crew, starts_on)
    names = {line["key"]: f"{line['room']}: {line['name']}" for line in firm_view["lines"]}
    rooms = {line["key"]: line["room"] for line in firm_view["lines"]}
    ordered = sorted(firm_view["materials"], key=lambda row: (row["supplier"], row["name"]))
    return [_shown(material, days, names, starts_on) | _rooms_of(material, rooms) for material in ordered]


def grouped(rows: Sequence[Mapping[str, Any]], *, by_day: bool) -> list[dict[str, Any]]:
    """Rows under headings: suppliers by name, or days from the first; what has no day comes last."""
    if not by_day:
        found = groupby(rows, key=lambda row: row["supplier"])
        return [{"supplier": supplier, "day": None, "rows": list(group)} for supplier, group in found]
    known = [row for row in rows if row["needed_day"] is not None]
    found = groupby(sorted(known, key=lambda row: row["needed_day"]), key=lambda row: row["needed_day"])
    groups = [{"supplier": "", "day": day, "rows": list(group)} for day, group in found]
    rest = [row for row in rows if row["needed_day"] is None]
    return [*groups, {"supplier": "", "day": None, "rows": rest}] if rest else groups


def _work_of(line: Mapping[str, Any]) -> LineOfWork:
    """An item takes no hours; figures from before cure times were kept have none."""
    hours = line["hours"]
    return LineOfWork(
        key=line["key"],
        room=line["room"],
        phase=Phase(line["phase"]),
        hours=Decimal(hours["hours"]) if hours else Decimal(0),
        cure_hours=Decimal(line.get("cure_hours", "0")),
        is_licensed=bool(line.get("licence")),
    )


def _shown(
    material: dict[str, Any], days: Mapping[str, int], names: Mapping[str, str], starts_on: date | None
) -> dict[str, Any]:
    day = first_day((use["line"] for use in material["uses"]), days)
    uses = [use | {"name": names.get(use["line"], use["line"])} for use in material["uses"]]
    on = date_of(day, starts_on).isoformat() if day and starts_on else None
    return material | {"uses": uses, "needed": material["amount"], "needed_day": day, "needed_on": on}


def _rooms_of(material: Mapping[str, Any], rooms: Mapping[str, str]) -> dict[str, list[str]]:
    found = (rooms.get(use["line"]) for use in material["uses"])
    return {"rooms": list(dict.fromkeys(room for room in found if room))}
