"""What changed between two sets of stored figures, in words and money.

Comes in: the figures of two revisions, or of a draft before and after new prices. Goes out: lines that came,
went or changed, options, exclusions, and every step to the total. Amounts are decimal text, as stored.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

ADDED, REMOVED, CHANGED = "added", "removed", "changed"


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that is not as it was. before, after: amounts; None where there is none, or no price."""

    change: str
    name: str
    said: str
    before: Decimal | None
    after: Decimal | None

    @property
    def more(self) -> Decimal:
        """What it adds to the price; negative where it takes off."""
        return (self.after or Decimal(0)) - (self.before or Decimal(0))


@dataclass(frozen=True, slots=True)
class Step:
    """A step to the total. The lines' sum, discount, subtotal, each tax, the total."""

    name: str
    before: Decimal
    after: Decimal

    @property
    def more(self) -> Decimal:
        """By how much it rose; negative where it fell."""
        return self.after - self.before


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two sets of figures side by side. The lines' `more` add up to that of the first step."""

    lines: tuple[Difference, ...]
    options: tuple[Difference, ...]
    exclusions: tuple[Difference, ...]
    steps: tuple[Step, ...]

    @property
    def before(self) -> Decimal:
        """The total before."""
        return self.steps[-1].before

    @property
    def after(self) -> Decimal:
        """The total after."""
        return self.steps[-1].after

    @property
    def more(self) -> Decimal:
        """By how much the total rose; negative where it fell."""
        return self.after - self.before

    @property
    def is_same(self) -> bool:
        """Whether nothing that a person would see is different."""
        changed = self.lines or self.options or self.exclusions
        return not changed and not any(step.more for step in self.steps)


def compare_figures(before: Mapping[str, Any], after: Mapping[str, Any]) -> Comparison:
    """Lay two quotes' stored figures beside each other; a line is known by its room and work."""
    old, new = before["client_view"], after["client_view"]
    lines = _changes(
        {line["key"]: line for line in before["firm_view"]["lines"]},
        {line["key"]: line for line in after["firm_view"]["lines"]},
    )
    options = _changes(_by_name(old["options"]), _by_name(new["options"]))
    exclusions = _changes(_texts(old["exclusions"]), _texts(new["exclusions"]))
    return Comparison(tuple(lines), tuple(options), tuple(exclusions), tuple(_steps(old, new)))


def _by_name(options: Iterable[Mapping[str, Any]]) -> dict[str, dict[str, Any]]:
    return {option["name"]: {"name": option["name"], "amount": option["total"]} | _missing(option)
            for option in options}  # fmt: skip


def _texts(texts: Iterable[str]) -> dict[str, dict[str, Any]]:
    return {text: {"name": text, "amount": None} for text in texts}


def _missing(row: Mapping[str, Any]) -> dict[str, Any]:
    return {"missing": row.get("missing", False)}


def _changes(old: Mapping[str, Any], new: Mapping[str, Any]) -> list[Difference]:
    """What went or changed in the order of before, then what came in the order of after."""
    found = []
    for key, row in old.items():
        if key not in new:
            found.append(Difference(REMOVED, _name(row), _measure(row), _amount(row), None))
        elif said := _said(row, new[key]):
            found.append(Difference(CHANGED, _name(new[key]), said, _amount(row), _amount(new[key])))
    came = [row for key, row in new.items() if key not in old]
    return found + [Difference(ADDED, _name(row), _measure(row), None, _amount(row)) for row in came]


def _said(old: Mapping[str, Any], new: Mapping[str, Any]) -> str:
    """In what way two rows of one key differ; nothing where they are alike."""
    words = [] if _measure(old) == _measure(new) else [f"{_measure(old)} before, {_measure(new)} now"]
    if bool(old.get("missing")) != bool(new.get("missing")):
        words.append("a price is missing" if new.get("missing") else "its price is known now")
    elif _amount(old) != _amount(new) and not words:
        words.append("another price")
    if old["name"] != new["name"]:
        words.append(f"was “{old['name']}”")
    return "; ".join(words)


def _name(row: Mapping[str, Any]) -> str:
    return f"{row['room']}: {row['name']}" if "room" in row else str(row["name"])


def _measure(row: Mapping[str, Any]) -> str:
    return f"{Decimal(row['quantity']):,.2f} {row['unit']}" if "quantity" in row else ""


def _amount(row: Mapping[str, Any]) -> Decimal | None:
    return None if row["amount"] is None else Decimal(row["amount"])


def _steps(old: Mapping[str, Any], new: Mapping[str, Any]) -> Iterable[Step]:
    yield Step("Lines", _lines_sum(old), _lines_sum(new))
    for name in ("discount", "subtotal"):
        yield Step(name.capitalize(), Decimal(old[name]), Decimal(new[name]))
    taxes = [{tax["name"]: Decimal(tax["amount"]) for tax in view["taxes"]} for view in (old, new)]
    for name in dict.fromkeys((*taxes[0], *taxes[1])):
        yield Step(name, taxes[0].get(name, Decimal(0)), taxes[1].get(name, Decimal(0)))
    yield Step("Total", Decimal(old["total"]), Decimal(new["total"]))


def _lines_sum(view: Mapping[str, Any]) -> Decimal:
    return Decimal(view["subtotal"]) - Decimal(view["discount"])
