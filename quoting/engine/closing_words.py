"""What a task cost more than its estimate, in a sentence that a tradesperson accepts."""

from decimal import Decimal

from labour.engine.figures import plain
from quoting.engine.closing import Reckoned

_LATER = {
    "condition": "what slowed the work was found only later",
    "house": "the whole job went slower",
    "efficiency": "this task went slower",
    "wage": "the hours were dearer than estimated",
}


def sentence_for(name: str, reckoned: Reckoned, wage: Decimal, quantity: tuple[Decimal, Decimal, str]) -> str:
    """Hours and the main reason. quantity: planned, done, unit. wage: estimated cost of an hour."""
    over = reckoned.hours.total
    words = f"{abs(over):,.2f} h {'more' if over > 0 else 'less'} than estimated" if over else "the hours fit"
    return f"{name}: {words}, mostly because {_reason(reckoned, wage, quantity)}."


def _reason(reckoned: Reckoned, wage: Decimal, quantity: tuple[Decimal, Decimal, str]) -> str:
    """The largest part in money: parts of hours at the estimated wage, and the part of the wage."""
    hours = reckoned.hours
    money = {name: getattr(hours, name) * wage for name in ("quantity", "condition", "house", "efficiency")}
    money["wage"] = reckoned.cost.wage
    largest = max(money, key=lambda name: money[name])
    planned, done, unit = quantity
    if not reckoned.estimated_cost:
        return "it was not in the estimate"
    if largest == "quantity":
        return f"more was done: {plain(done)} instead of {plain(planned)} {unit}"
    return _LATER[largest]
