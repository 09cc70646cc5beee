"""How a firm prices, read from its rows into the values that the engine takes."""

from dataclasses import fields
from decimal import Decimal

from labour.engine.refusal import Refusal
from labour.firm.models import Firm, Worker
from quoting.engine.pricing.money import ZERO, to_cents
from quoting.engine.pricing.values import Category, CategoryRule, Method, PricePolicy, SalesTax
from quoting.price.checks import BillTerms, SafetyTerms
from quoting.price.models import CategoryRuleRow, PriceSettings, SalesTaxRow


class NoWorkers(Refusal):
    """Nobody's hours can be priced."""


class NoPriceSettings(Refusal):
    """The firm has not been given its starting prices."""


def get_price_settings(firm: Firm) -> PriceSettings:
    """What the firm's quotes say beyond the categories. Raise `NoPriceSettings`."""
    row: PriceSettings | None = PriceSettings.objects.of(firm).first()
    if row is None:
        raise NoPriceSettings("This firm has no price settings yet: finish its set-up first.")
    return row


def get_milestones(firm: Firm) -> tuple[tuple[str, Decimal], ...]:
    """The firm's payments: name and percent of the total. Raise `NoPriceSettings`."""
    return milestones_of(get_price_settings(firm))


def milestones_of(settings: PriceSettings) -> tuple[tuple[str, Decimal], ...]:
    """The payments that the row holds: name and percent of the total."""
    return tuple((part["name"], Decimal(part["percent"])) for part in settings.milestones)


def spare_tiles_of(firm: Firm) -> Decimal:
    """Percent of tiles that the firm buys on top of what layouts need; 0 before it has price settings."""
    row = PriceSettings.objects.of(firm).first()
    return row.spare_tiles if row else ZERO


def bill_terms_of(settings: PriceSettings) -> BillTerms:
    """How the row says that days are counted and bills are made."""
    return BillTerms(**{field.name: getattr(settings, field.name) for field in fields(BillTerms)})


def safety_of(settings: PriceSettings) -> SafetyTerms:
    """How safe the row says that a price should be."""
    return SafetyTerms(**{field.name: getattr(settings, field.name) for field in fields(SafetyTerms)})


def get_rules(firm: Firm) -> dict[Category, CategoryRule]:
    """The firm's rule for each category, in the order of `Category`."""
    rows = {Category(row.category): row for row in CategoryRuleRow.objects.of(firm)}
    return {category: _rule_of(rows[category]) for category in Category if category in rows}


def list_taxes(firm: Firm) -> tuple[SalesTax, ...]:
    """The firm's taxes on the client's price, in its order."""
    rows = SalesTaxRow.objects.of(firm).order_by("position", "name")
    return tuple(SalesTax(row.name, row.rate, frozenset(map(Category, row.categories))) for row in rows)


def get_price_policy(firm: Firm) -> PricePolicy:
    """Everything a price is made by, as it stands now. Raise `NoWorkers` or `NoPriceSettings`."""
    settings = get_price_settings(firm)
    costs = {"plumbing": settings.plumber_cost, "electrical": settings.electrician_cost}
    labour_cost, source = _average_loaded_cost(firm)
    return PricePolicy(
        rules=get_rules(firm),
        taxes=list_taxes(firm),
        labour_cost=labour_cost,
        labour_source=source,
        licence_cost={licence: cost for licence, cost in costs.items() if cost is not None},
        spare_tiles=settings.spare_tiles,
    )


def _average_loaded_cost(firm: Firm) -> tuple[Decimal, str]:
    """Cost of an hour to the cent, so that hours × cost can be checked with a pocket calculator."""
    costs = [to_cents(worker.loaded_cost) for worker in Worker.objects.of(firm).filter(is_active=True)]
    if not costs:
        words = "Add a worker with a wage first: the cost of an hour comes from the people who work."
        raise NoWorkers(words)
    source = "loaded cost of the one active worker"
    if len(costs) > 1:
        source = f"average loaded cost of {len(costs)} active workers"
    return to_cents(sum(costs, ZERO) / len(costs)), source


def _rule_of(row: CategoryRuleRow) -> CategoryRule:
    return CategoryRule(row.overhead, row.contingency, Method(row.method), row.percent, row.purchase_tax)
