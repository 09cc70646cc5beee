"""The lines of a change order as they are typed and stored, read into plain values.

{"kind": "work", "room", "task", "quantity"}: a task of the rate book, quantity in its unit.
{"kind": "template", "room", "template", "area", "length", "count"}: a scope template on what was opened.
{"kind": "plain", "description", "category", "amount"}: a stated price before tax; negative to take off.
{"kind": "credit", "key"}: a line or option of the contract, taken back whole.
{"kind": "allowance", "description", "chosen"}: what the choice costs, against what the quote set aside.
"""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from labour.engine.refusal import Problem, Refusal
from quoting.engine.extents import read_area, read_count, read_length
from quoting.engine.pricing.money import ZERO, read_money
from quoting.engine.pricing.values import Category

MOST_LINES = 60
_MOST = Decimal(100_000)
_TYPED = re.compile(r"(?:[0-9]{1,3}(?:,[0-9]{3})+|[0-9]{1,6})(?:\.[0-9]{1,2})?")


class BadLines(Refusal):
    """Lines of a change order that can not be used; each problem names its line and field."""


@dataclass(frozen=True, slots=True)
class WorkAsked:
    """A task in a room. quantity: in the task's unit."""

    field: str
    room: str
    task: str
    quantity: Decimal


@dataclass(frozen=True, slots=True)
class TemplateAsked:
    """A template on what was opened. opened: quantities of the vocabulary, in feet to the dimension."""

    field: str
    room: str
    template: str
    opened: Mapping[str, Decimal]


@dataclass(frozen=True, slots=True)
class PlainAsked:
    """A stated price of one category, before tax."""

    field: str
    description: str
    category: Category
    amount: Decimal


@dataclass(frozen=True, slots=True)
class CreditAsked:
    """A line or option of the contract taken back."""

    field: str
    key: str


@dataclass(frozen=True, slots=True)
class AllowanceAsked:
    """A choice made. chosen: its cost to the firm. included: what the asker read, None when not said."""

    field: str
    description: str
    chosen: Decimal
    included: Decimal | None


type Asked = WorkAsked | TemplateAsked | PlainAsked | CreditAsked | AllowanceAsked
type _Row = Mapping[str, Any]


def read_lines(rows: Sequence[_Row], *, metric: bool = False) -> tuple[Asked, ...]:
    """The lines in their order. metric: plain numbers of extents are in metres. Raise BadLines."""
    if len(rows) > MOST_LINES:
        raise BadLines(Problem("lines", f"A change order has at most {MOST_LINES} lines, not {len(rows)}."))
    problems: list[Problem] = []
    asked = []
    for place, row in enumerate(rows):
        try:
            asked.append(_read_line(row, f"lines[{place}]", metric))
        except Refusal as refusal:
            problems += refusal.problems
    if problems:
        raise BadLines(*problems)
    return tuple(asked)


def _read_line(row: _Row, field: str, metric: bool) -> Asked:
    kind = _text(row, "kind")
    if kind == "template":
        return _read_template(row, field, metric)
    readers: Mapping[str, Callable[[_Row, str], Asked]] = {
        "work": _read_work, "plain": _read_plain, "credit": _read_credit, "allowance": _read_allowance
    }  # fmt: skip
    if kind not in readers:
        known = ", ".join(("template", *readers))
        raise BadLines(Problem(f"{field}.kind", f"“{kind[:24]}” is no kind of line; write one of {known}."))
    return readers[kind](row, field)


def _read_work(row: _Row, field: str) -> WorkAsked:
    typed = _text(row, "quantity")
    quantity = Decimal(typed.replace(",", "")) if _TYPED.fullmatch(typed) else ZERO
    problems = _missing(row, field, ("room", "task"))
    if not 0 < quantity <= _MOST:
        wanted = f"“{typed[:24]}” is not a quantity above 0 and up to {_MOST:,}, like 12 or 12.5."
        problems.append(Problem(f"{field}.quantity", wanted))
    if problems:
        raise BadLines(*problems)
    return WorkAsked(field, _text(row, "room"), _text(row, "task"), quantity)


def _read_template(row: _Row, field: str, metric: bool) -> TemplateAsked:
    problems = _missing(row, field, ("room", "template"))
    opened = {}
    readers: dict[str, Callable[[str, str], Decimal]] = {
        "area": lambda text, name: read_area(text, name, metric=metric),
        "length": lambda text, name: read_length(text, name, metric=metric),
        "count": read_count,
    }
    for name, read in readers.items():
        try:
            opened[f"opened_{name}"] = read(_text(row, name), f"{field}.{name}")
        except Refusal as refusal:
            problems += refusal.problems
    if not problems and not any(opened.values()):
        problems.append(Problem(f"{field}.area", "Say how much was found: an area, a length or a count."))
    if problems:
        raise BadLines(*problems)
    return TemplateAsked(field, _text(row, "room"), _text(row, "template"), opened)


def _read_plain(row: _Row, field: str) -> PlainAsked:
    problems = _missing(row, field, ("description",))
    category, amount = _text(row, "category"), ZERO
    if category not in list(Category):
        wanted = f"“{category[:24]}” is no category of cost; choose one of {', '.join(Category)}."
        problems.append(Problem(f"{field}.category", wanted))
    try:
        amount = read_money(_text(row, "amount"), f"{field}.amount")
    except Refusal as refusal:
        problems += refusal.problems
    else:
        if not amount:
            problems.append(Problem(f"{field}.amount", "An amount of 0 changes nothing; leave the line out."))
    if problems:
        raise BadLines(*problems)
    return PlainAsked(field, _text(row, "description"), Category(category), amount)


def _read_credit(row: _Row, field: str) -> CreditAsked:
    problems = _missing(row, field, ("key",))
    if problems:
        raise BadLines(*problems)
    return CreditAsked(field, _text(row, "key"))


def _read_allowance(row: _Row, field: str) -> AllowanceAsked:
    problems = _missing(row, field, ("description",))
    chosen, included = ZERO, None
    try:
        chosen = read_money(_text(row, "chosen"), f"{field}.chosen")
        included = read_money(_text(row, "included"), f"{field}.included") if _text(row, "included") else None
    except Refusal as refusal:
        problems += refusal.problems
    if chosen < 0:
        problems.append(Problem(f"{field}.chosen", "What the choice costs is 0 or more."))
    if problems:
        raise BadLines(*problems)
    return AllowanceAsked(field, _text(row, "description"), chosen, included)


def _missing(row: _Row, field: str, names: Sequence[str]) -> list[Problem]:
    problems = []
    for name in names:
        text = _text(row, name)
        if not 1 <= len(text) <= 200 or not text.isprintable():
            problems.append(Problem(f"{field}.{name}", "Fill this in, with at most 200 plain characters."))
    return problems


def _text(row: _Row, name: str) -> str:
    value = row.get(name)
    return "" if value is None else str(value).strip()
