"""How the tile of a quote's rooms is set out: a quote comes in; the takeoff and its sheet go out."""

import re
from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from decimal import Decimal

from labour.engine.figures import plain
from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm
from quoting.documents.letterhead import letterhead_of
from quoting.engine.layout.search import Wish, compare
from quoting.engine.takeoff import Takeoff, Wanted, take_off
from quoting.engine.taking_off.values import LaidSurface
from quoting.measure.queries import get_rooms
from quoting.offer.models import Quote
from quoting.price.queries import spare_tiles_of
from quoting.takeoff.books import get_takeoff_books
from quoting.takeoff.setting_out import anchor_of, setting_out_pdf

MOST_ATTIC = 50
_PERCENT = re.compile(r"[0-9]{1,2}(\.[0-9]{1,2})?")
ALL = "yes"


class BadSettingOut(Refusal):
    """What is asked of a layout that no layout can be chosen by."""


def take_off_quote(firm: Firm, quote: Quote, wanted: Wanted) -> Takeoff:
    """Every tiled surface of the rooms, laid out and counted. Raise a Refusal that names the surface."""
    return take_off(get_rooms(quote.survey), get_takeoff_books(firm), wanted)


def wanted_from(asked: Mapping[str, str]) -> Wanted:
    """What a page or a program asks for: wish, attic (percent on top), compare (yes). Raise BadSettingOut."""
    problems = []
    wish, attic = asked.get("wish") or Wish.TRADE.value, asked.get("attic") or "0"
    if wish not in set(Wish):
        problems.append(Problem("wish", f"Choose one of {', '.join(Wish)}."))
    if not _PERCENT.fullmatch(attic) or Decimal(attic) > MOST_ATTIC:
        problems.append(Problem("attic", f"Write a percent from 0 to {MOST_ATTIC}, like 5."))
    if problems:
        raise BadSettingOut(*problems)
    return Wanted(wish=Wish(wish), compare=asked.get("compare") == ALL, attic=float(attic) / 100)


def wanted_by(firm: Firm, asked: Mapping[str, str]) -> Wanted:
    """The same with the firm's own spare tiles where no percent on top is asked for."""
    return wanted_from({**asked, "attic": asked.get("attic") or spare_text(firm)})


def spare_text(firm: Firm) -> str:
    """The firm's percent of spare tiles, as it is shown."""
    return plain(spare_tiles_of(firm))


def with_ways(takeoff: Takeoff, anchor: str) -> Takeoff:
    """The takeoff with the other ways to lay the one surface of this id; as it is where there is none."""

    def compared(number: int, laid: LaidSurface) -> LaidSurface:
        if anchor_of(number, laid.surface.key) != anchor:
            return laid
        return replace(laid, alternatives=compare(laid.surface, laid.layout.setting))

    rooms = tuple(
        replace(taken, surfaces=tuple(compared(number, laid) for laid in taken.surfaces))
        for number, taken in enumerate(takeoff.rooms, 1)
    )
    return replace(takeoff, rooms=rooms)


def pdf_of_setting_out(firm: Firm, takeoff: Takeoff, at: datetime) -> bytes:
    """The crew's sheet as PDF, on the firm's paper."""
    return setting_out_pdf(takeoff, letterhead_of(firm), paper=firm.paper, at=at)


WISHES = (
    (Wish.TRADE.value, "As the trade wants it: no slivers, even cuts, full courses"),
    (Wish.CENTRED.value, "Centred"),
    (Wish.FEWEST_TILES.value, "Fewest tiles"),
)
"""What a start may be chosen by, with words."""
