"""Routes of a firm's price settings: the owner changes them, the office reads them."""

from typing import Any

from ninja import Router

from labour.engine.refusal import Problem, Refusal
from labour.firm.access import OFFICE, OWNER, MemberRequest
from labour.firm.api_access import at_by, only
from labour.firm.models import Firm
from quoting.engine.pricing.values import Category, CategoryRule, SalesTax
from quoting.price.checks import BillTerms, QuoteTerms, SafetyTerms
from quoting.price.examples import find_example
from quoting.price.queries import (
    bill_terms_of,
    get_price_settings,
    get_rules,
    list_taxes,
    milestones_of,
    safety_of,
)
from quoting.price.schemas import CategoryRuleIn, ExampleIn, ExampleOut, PriceSettingsIn, PriceSettingsOut
from quoting.price.services import save_price_settings

router = Router(tags=["prices"])

_TERMS = ("plumber_cost", "electrician_cost", "valid_days", "spare_tiles", "show_line_amounts", "terms")


@router.get("/price-settings", response=PriceSettingsOut)
@only(*OFFICE)
def get_prices(request: MemberRequest) -> Any:
    """How the firm makes its prices: rules, taxes, payments and terms."""
    return _document(request.firm)


@router.put("/price-settings", response=PriceSettingsOut)
@only(*OWNER)
def save_prices(request: MemberRequest, body: PriceSettingsIn) -> Any:
    """Change them, all or nothing. Quotes made from now on use them; sent quotes stay."""
    terms = {name: getattr(body, name) for name in _TERMS}
    milestones = tuple((part.name, part.percent) for part in body.milestones)
    save_price_settings(
        firm=request.firm,
        rules={category: _rule(rule) for category, rule in body.rules.items()},
        settings=QuoteTerms(**terms, milestones=milestones),
        taxes=[SalesTax(tax.name, tax.rate, frozenset(tax.categories)) for tax in body.taxes],
        bills=None if body.bills is None else BillTerms(**dict(body.bills)),
        safety=None if body.safety is None else SafetyTerms(**dict(body.safety)),
        **at_by(request),
    )
    return _document(request.firm)


@router.post("/price-settings/example", response=ExampleOut)
@only(*OWNER)
def try_rule(request: MemberRequest, body: ExampleIn) -> Any:
    """What a rule makes of 100.00 of cost; nothing is kept."""
    example = find_example(body.category, _rule(body.rule))
    if example is None:
        raise Refusal(Problem("rule", "These percentages give no price: a margin must stay below 100."))
    return example


def _rule(rule: CategoryRuleIn) -> CategoryRule:
    return CategoryRule(**dict(rule))


def _document(firm: Firm) -> dict[str, Any]:
    settings = get_price_settings(firm)
    rules: dict[Category, CategoryRule] = get_rules(firm)
    return {
        **{name: getattr(settings, name) for name in _TERMS},
        "rules": {category.value: rule for category, rule in rules.items()},
        "taxes": [
            {"name": tax.name, "rate": tax.rate, "categories": sorted(tax.categories)}
            for tax in list_taxes(firm)
        ],
        "bills": bill_terms_of(settings),
        "safety": safety_of(settings),
        "milestones": [{"name": name, "percent": percent} for name, percent in milestones_of(settings)],
    }
