"""The options that a client takes, and what the offer comes to with them.

Comes in: a sent quote and the names that were ticked. Goes out: the options as the quote's frozen figures
have them. Nothing is priced here.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from labour.engine.refusal import Problem, Refusal
from quoting.engine.billing.amounts import Amounts
from quoting.engine.pricing.money import ZERO
from quoting.offer.models import Quote


class CannotTakeOptions(Refusal):
    """The options do not fit the offer."""


@dataclass(frozen=True, slots=True)
class TakenOption:
    """An option of the offer. amounts: what it adds; below zero where it costs less than what it replaces.

    works: its lines as the firm's view has them. replaces: keys of the base lines that go.
    """

    name: str
    amounts: Amounts
    works: tuple[Mapping[str, Any], ...] = ()
    replaces: tuple[str, ...] = ()

    @property
    def total(self) -> Decimal:
        """With tax."""
        return self.amounts.total


@dataclass(frozen=True, slots=True)
class Choice:
    """An offer with the options taken. base: its price without them. total = base + options, all with tax."""

    base: Amounts
    options: tuple[TakenOption, ...]

    @property
    def total(self) -> Decimal:
        """With tax: what the client pays."""
        return self.base.total + sum((option.total for option in self.options), ZERO)


def choose_options(quote: Quote, names: Collection[str]) -> Choice:
    """The offer with these options. Raise CannotTakeOptions, every problem named.

    An option is refused when it is unknown, has no price, or excludes another one that was taken.
    """
    firm_view, shown = quote.figures["firm_view"], quote.figures["client_view"]["options"]
    if "amounts" not in firm_view:
        raise CannotTakeOptions(f"{quote.number} was made before contracts were kept. Copy it and send that.")
    offered = {option["name"]: option for option in shown}
    problems = [*_unknown(offered, names), *_without_price(offered, names), *_exclusive(offered, names)]
    if problems:
        raise CannotTakeOptions(*problems)
    stored = {option["name"]: option for option in firm_view["options"]}
    taken = tuple(_taken(stored[name]) for name in offered if name in names)
    return Choice(Amounts.from_json(firm_view["amounts"]), taken)


def _taken(stored: Mapping[str, Any]) -> TakenOption:
    works, replaces = tuple(stored.get("works", ())), tuple(stored.get("replaces", ()))
    return TakenOption(stored["name"], Amounts.from_json(stored["amounts"]), works, replaces)


def _unknown(offered: Mapping[str, Any], names: Collection[str]) -> list[Problem]:
    there = ", ".join(offered) or "none"
    return [
        Problem("options", f"There is no option “{name[:120]}” in this offer. Offered: {there}.")
        for name in names
        if name not in offered
    ]


def _without_price(offered: Mapping[str, Any], names: Collection[str]) -> list[Problem]:
    return [
        Problem("options", f"“{name}” has no price yet. Ask for it before you take it.")
        for name, option in offered.items()
        if name in names and option["missing"]
    ]


def _exclusive(offered: Mapping[str, Any], names: Collection[str]) -> list[Problem]:
    """Each pair is named once, in the order in which the options are offered."""
    places = list(offered)
    return [
        Problem("options", f"“{name}” and “{other}” stand for the same thing: take one of them.")
        for name, option in offered.items()
        if name in names
        for other in _excluded(option)
        if other in names and other in offered and places.index(name) < places.index(other)
    ]


def _excluded(option: Mapping[str, Any]) -> Sequence[str]:
    found: Sequence[str] = option.get("excludes", ())
    return found
