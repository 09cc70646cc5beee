"""Checks a firm's price policy at the door, so that the arithmetic behind it can trust the numbers.

Comes in: a `PricePolicy`. Goes out: nothing, or `BadPolicy` with every problem, named by category and field
("labour.percent", "taxes[0].rate").
"""

from collections.abc import Iterator
from decimal import Decimal

from labour.engine.refusal import Problem, Refusal
from quoting.engine.pricing.markup import MARGIN_TOO_HIGH
from quoting.engine.pricing.values import CategoryRule, Method, PricePolicy, SalesTax

HIGHEST_PERCENT = Decimal(1000)
"""Above this a percentage is a slip of the keyboard."""

_FIELDS = (
    ("overhead", "overhead"),
    ("contingency", "contingency"),
    ("percent", "markup or margin"),
    ("purchase_tax", "purchase tax"),
)


class BadPolicy(Refusal):
    """Price rules, taxes or costs that no price can be made from."""


def check_policy(policy: PricePolicy) -> None:
    """Raise `BadPolicy` unless every percentage is a number in its range and margins are below 100%."""
    problems = [problem for category, rule in policy.rules.items() for problem in _of_rule(category, rule)]
    problems += [problem for place, tax in enumerate(policy.taxes) for problem in _of_tax(place, tax)]
    if problems:
        raise BadPolicy(*problems)


def _of_rule(category: str, rule: CategoryRule) -> Iterator[Problem]:
    for name, words in _FIELDS:
        value: Decimal = getattr(rule, name)
        if not value.is_finite() or not 0 <= value <= HIGHEST_PERCENT:
            message = f"{category} {words} must be a percentage from 0 to {HIGHEST_PERCENT}, not {value}."
            yield Problem(f"{category}.{name}", message)
        elif name == "percent" and rule.method is Method.MARGIN and value >= 100:
            yield Problem(f"{category}.percent", f"{category}: {value}% does not work; {MARGIN_TOO_HIGH}.")


def _of_tax(place: int, tax: SalesTax) -> Iterator[Problem]:
    if not tax.rate.is_finite() or not 0 <= tax.rate < 100:
        yield Problem(
            f"taxes[{place}].rate", f"{tax.name}: a tax rate is from 0 to below 100%, not {tax.rate}."
        )
