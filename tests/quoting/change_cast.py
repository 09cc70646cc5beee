"""What the hall bath's accepted quote settles, and changes of it, as plain values."""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Any

from labour.engine.planning import plan_hours
from labour.engine.scope import LineKind, ScopeLine, ScopeTemplate
from quoting.engine.agreed import Agreed, read_agreed
from quoting.engine.change_lines import read_lines
from quoting.engine.changing import PricedChange, Terms, price_lines_of_change
from quoting.engine.estimate import Books, Changes, estimate
from quoting.engine.figures import figures_of
from quoting.engine.pricing.values import Discount
from tests.hall_bath import OPTION, ROOM, make_books, make_scope

ROT = ScopeTemplate(
    slug="rot",
    name="Rot under the floor",
    summary="Rot found under the floor.",
    lines=(
        ScopeLine("", LineKind.TASK, "mend-subfloor", "opened_area"),
        ScopeLine("", LineKind.TASK, "clean", "1 if opened_area > 0 else 0"),
    ),
    exclusions=("The leak.",),
)


def work(task: str = "mend-subfloor", quantity: str = "12", room: str = ROOM) -> dict[str, str]:
    return {"kind": "work", "room": room, "task": task, "quantity": quantity}


def rot(area: str = "12", room: str = ROOM, **extent: str) -> dict[str, str]:
    return {"kind": "template", "room": room, "template": "rot", "area": area} | extent


def plain(amount: str = "85.00", category: str = "labour", words: str = "Two hours more") -> dict[str, str]:
    return {"kind": "plain", "description": words, "category": category, "amount": amount}


def credit(key: str) -> dict[str, str]:
    return {"kind": "credit", "key": key}


def allowance(chosen: str, words: str = "Floor tile of your choice") -> dict[str, str]:
    return {"kind": "allowance", "description": words, "chosen": chosen}


def hall_figures(percent: str = "0") -> Mapping[str, Any]:
    """The quote as it is stored. percent: discount."""
    priced = estimate([make_scope()], make_books(), Changes(), Discount(percent=Decimal(percent)))
    return figures_of(priced, year_built=1972)


def hall_agreed(percent: str = "0") -> Agreed:
    """The accepted quote Q-0001, with the heated floor taken."""
    return read_agreed("Q-0001", hall_figures(percent), [OPTION])


def hall_terms(percent: str = "0", books: Books | None = None, **changed: Any) -> Terms:
    """Today's books and the quote's rooms."""
    room = make_scope().figures
    terms = Terms(hall_agreed(percent), books or make_books(), {ROOM: room}, {ROT.slug: ROT})
    return replace(terms, **changed)


def price(*lines: dict[str, str], terms: Terms | None = None) -> PricedChange:
    """A change of these lines, priced."""
    return price_lines_of_change(read_lines(lines), terms or hall_terms(), plan_hours)
