"""What a person does with single lines of a draft: set a quantity, leave a line out, add work."""

from copy import deepcopy
from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.db import transaction

from labour.engine.refusal import Problem
from labour.firm.models import Firm, User
from quoting.engine.pricing.values import Discount
from quoting.offer.models import Quote
from quoting.offer.services import CannotChangeQuote, draft_of, lock_draft, note, price_draft


@transaction.atomic
def set_quantity(
    *, firm: Firm, quote_id: int, key: str, quantity: str, at: datetime, by: User | None
) -> Quote:
    """Price a line at a quantity of the owner's; an empty quantity goes back to the measured one."""
    quote = lock_draft(firm, quote_id)
    changes = _changes_of(quote)
    _check_key(quote, key)
    if quantity.strip():
        changes["quantities"][key] = quantity.strip()
    else:
        changes["quantities"].pop(key, None)
    return _apply(quote, changes, "set quantity", at, by, line=key, quantity=quantity.strip() or "measured")


@transaction.atomic
def leave_out(*, firm: Firm, quote_id: int, key: str, at: datetime, by: User | None) -> Quote:
    """Take a line out of the quote; `put_back` brings it in again."""
    quote = lock_draft(firm, quote_id)
    changes = _changes_of(quote)
    _check_key(quote, key)
    changes["left_out"] = sorted({*changes["left_out"], key})
    return _apply(quote, changes, "left out line", at, by, line=key)


@transaction.atomic
def put_back(*, firm: Firm, quote_id: int, key: str, at: datetime, by: User | None) -> Quote:
    """Bring a line in again that was left out."""
    quote = lock_draft(firm, quote_id)
    changes = _changes_of(quote)
    if key not in changes["left_out"]:
        raise CannotChangeQuote(Problem("key", f"“{key}” was not left out."))
    changes["left_out"].remove(key)
    return _apply(quote, changes, "put back line", at, by, line=key)


@transaction.atomic
def add_work(
    *, firm: Firm, quote_id: int, room: str, task: str, quantity: str, at: datetime, by: User | None
) -> Quote:
    """Add a task of the rate book to a room, with its quantity in the task's unit."""
    quote = lock_draft(firm, quote_id)
    changes = _changes_of(quote)
    if room not in {view["name"] for view in quote.figures["rooms"]}:
        raise CannotChangeQuote(Problem("room", f"This quote has no room called “{room}”."))
    changes["added"].append({"room": room, "task": task, "quantity": quantity})
    return _apply(quote, changes, "added work", at, by, room=room, task=task, quantity=quantity)


@transaction.atomic
def set_discount(
    *, firm: Firm, quote_id: int, percent: Decimal, amount: Decimal, at: datetime, by: User | None
) -> Quote:
    """Take a percentage or an amount off the lines; the other is zero."""
    quote = lock_draft(firm, quote_id)
    draft = replace(draft_of(quote), discount=Discount(percent, amount))
    price_draft(quote, draft, at)
    note(quote, "set discount", at, by, percent=str(percent), amount=str(amount))
    return quote


@transaction.atomic
def choose_options(
    *, firm: Firm, quote_id: int, options: frozenset[str], at: datetime, by: User | None
) -> Quote:
    """Take these options into the price, and no others."""
    quote = lock_draft(firm, quote_id)
    draft = draft_of(quote)
    price_draft(quote, replace(draft, choice=replace(draft.choice, options=options)), at)
    note(quote, "chose options", at, by, options=", ".join(sorted(options)))
    return quote


def _changes_of(quote: Quote) -> dict[str, Any]:
    empty: dict[str, Any] = {"quantities": {}, "left_out": [], "added": []}
    kept: dict[str, Any] = deepcopy(quote.changes)
    return empty | kept


def _check_key(quote: Quote, key: str) -> None:
    if key not in {line["key"] for line in quote.figures["firm_view"]["lines"]}:
        raise CannotChangeQuote(Problem("key", f"This quote has no line “{key}”."))


def _apply(
    quote: Quote, changes: dict[str, Any], action: str, at: datetime, by: User | None, **detail: str
) -> Quote:
    before = str(quote.total)
    price_draft(quote, replace(draft_of(quote), changes=changes), at)
    note(quote, action, at, by, before=before, after=str(quote.total), **detail)
    return quote
