"""What is wrong with price settings before they are saved.

Comes in: rules, terms and taxes as given. Goes out: problems, each naming its field
("labour.percent", "taxes[0].name", "milestones[2].percent", "valid_days").
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from django.core.exceptions import ValidationError
from django.db import models

from labour.engine.refusal import Problem, Refusal
from quoting.engine.pricing.milestones import check_milestones
from quoting.engine.pricing.policy import check_policy
from quoting.engine.pricing.values import Category, CategoryRule, PricePolicy, SalesTax

LONGEST_VALIDITY = 365
MOST_MILESTONES = 12
LONGEST_TERMS = 6000
MOST_SPARE = 50
_LONGEST_NAME = 80


@dataclass(frozen=True, slots=True)
class QuoteTerms:
    """What quotes say and cost beyond the categories.

    plumber_cost, electrician_cost: an hour of licensed trade bought in, None when the firm's own crew
    holds the licence. milestones: name and percent of the total, together 100%. spare_tiles: percent bought
    on top of the tiles that the layouts need.
    """

    plumber_cost: Decimal | None
    electrician_cost: Decimal | None
    valid_days: int
    show_line_amounts: bool
    terms: str
    milestones: tuple[tuple[str, Decimal], ...]
    spare_tiles: Decimal = Decimal(5)


@dataclass(frozen=True, slots=True)
class BillTerms:
    """How the firm counts days and bills. crew_size people work day_hours a day.

    deposit_cap_*: the most asked as a deposit, percent of the contract and an amount; None for no cap.
    payment_days: from an invoice to its due day. retainage_percent: held back of each bill, to start from.
    """

    crew_size: int = 2
    day_hours: Decimal = Decimal(8)
    deposit_cap_percent: Decimal | None = None
    deposit_cap_amount: Decimal | None = None
    payment_days: int = 14
    retainage_percent: Decimal = Decimal(0)


@dataclass(frozen=True, slots=True)
class SafetyTerms:
    """How safe a price should be, all in percent.

    wanted_margin: of the price without tax, left after all costs. wanted_chance: of jobs that leave it.
    material_spread: how far material prices move until they are paid (sd).
    """

    wanted_margin: Decimal = Decimal(15)
    wanted_chance: Decimal = Decimal(80)
    material_spread: Decimal = Decimal(5)


def problems_of_safety(safety: SafetyTerms) -> list[Problem]:
    """Percentages that no price can be judged by."""
    margin, chance, spread = safety.wanted_margin, safety.wanted_chance, safety.material_spread
    rules = (
        ("wanted_margin", _in(margin, 100) and margin < 100, "A margin is from 0 to below 100%, like 15."),
        ("wanted_chance", _in(chance, 100) and 50 <= chance < 100, "A chance is from 50 to below 100%."),
        ("material_spread", _in(spread, 50), "Material prices move by 0 to 50%, like 5."),
    )
    return [Problem(field, words) for field, holds, words in rules if not holds]


def problems_of_bills(bills: BillTerms) -> list[Problem]:
    """Days, caps and percentages that do not work."""
    rules = (
        ("crew_size", 1 <= bills.crew_size <= 20, "A crew is 1 to 20 people."),
        ("day_hours", 0 < bills.day_hours <= 24, "A working day has more than 0 and at most 24 hours."),
        ("payment_days", 0 <= bills.payment_days <= 180, "An invoice is due within 0 to 180 days, like 14."),
        ("retainage_percent", 0 <= bills.retainage_percent < 100, "Retainage is from 0 to below 100%."),
        ("deposit_cap_percent", _in(bills.deposit_cap_percent, 100), "A cap is from 0 to 100%, or empty."),
        ("deposit_cap_amount", _in(bills.deposit_cap_amount, None), "A cap is 0 or more, or empty."),
    )
    return [Problem(field, words) for field, holds, words in rules if not holds]


def _in(value: Decimal | None, most: int | None) -> bool:
    return value is None or (value.is_finite() and value >= 0 and (most is None or value <= most))


def problems_of_rules(rules: Mapping[Category, CategoryRule]) -> list[Problem]:
    """Categories that have no rule."""
    return [
        Problem(f"{category}.percent", f"Give {category} a markup or a margin; 0 is fine.")
        for category in Category
        if category not in rules
    ]


def problems_of_taxes(rules: Mapping[Category, CategoryRule], taxes: Sequence[SalesTax]) -> list[Problem]:
    """Percentages out of range, taxes named twice, taxes on nothing."""
    problems = _problems_of(lambda: check_policy(PricePolicy(rules, tuple(taxes))))
    names = [tax.name.strip().casefold() for tax in taxes]
    for place, tax in enumerate(taxes):
        if names.index(names[place]) < place:
            problems.append(Problem(f"taxes[{place}].name", f"“{tax.name}” is there twice; name it once."))
        if not tax.categories:
            words = f"Tick what {tax.name or 'this tax'} is charged on, or remove it."
            problems.append(Problem(f"taxes[{place}].categories", words))
    return problems


def problems_of_terms(settings: QuoteTerms) -> list[Problem]:
    """Days, hourly costs and payments that do not work."""
    problems = []
    if not 1 <= settings.valid_days <= LONGEST_VALIDITY:
        problems.append(Problem("valid_days", f"A quote holds from 1 to {LONGEST_VALIDITY} days, like 30."))
    costs = (("plumber_cost", settings.plumber_cost), ("electrician_cost", settings.electrician_cost))
    for field, cost in costs:
        if cost is not None and not (cost.is_finite() and cost > 0):
            words = "Give the cost of an hour above zero, or leave it empty when your own crew does it."
            problems.append(Problem(field, words))
    if not _in(settings.spare_tiles, MOST_SPARE):
        words = f"Spare tiles are from 0 to {MOST_SPARE}% of those that are needed, like 5."
        problems.append(Problem("spare_tiles", words))
    if len(settings.terms) > LONGEST_TERMS:
        problems.append(Problem("terms", f"Keep the terms to {LONGEST_TERMS} characters."))
    return problems + _problems_of_milestones(settings.milestones)


def _problems_of_milestones(milestones: Sequence[tuple[str, Decimal]]) -> list[Problem]:
    problems = _problems_of(lambda: check_milestones(milestones))
    if len(milestones) > MOST_MILESTONES:
        problems.append(Problem("milestones", f"Use at most {MOST_MILESTONES} payments."))
    for place, (name, percent) in enumerate(milestones):
        if len(name) > _LONGEST_NAME:
            words = f"Keep the name of a payment to {_LONGEST_NAME} characters."
            problems.append(Problem(f"milestones[{place}].name", words))
        if percent.is_finite() and percent * 100 % 1:
            words = "Give a payment's percentage with at most two decimals, like 33.33."
            problems.append(Problem(f"milestones[{place}].percent", words))
    return problems


def _problems_of(check: Callable[[], None]) -> list[Problem]:
    try:
        check()
    except Refusal as refusal:
        return list(refusal.problems)
    return []


def column_problems(row: models.Model, prefix: str) -> list[Problem]:
    """What does not fit the row's columns: too many decimals, too long, empty."""
    try:
        row.clean_fields(exclude={"firm", "categories", "milestones"})
    except ValidationError as error:
        found = error.message_dict.items()
        return [Problem(f"{prefix}{name}", " ".join(messages)) for name, messages in found]
    return []


def first_of_each_field(problems: Iterable[Problem]) -> list[Problem]:
    """One problem a field: a second message about the same figure only confuses."""
    first: dict[str, Problem] = {}
    for problem in problems:
        first.setdefault(problem.field, problem)
    return list(first.values())
