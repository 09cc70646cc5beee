"""What a new firm prices with until it sets its own: starting guesses, all of them to be changed."""

from decimal import Decimal

from quoting.engine.pricing.values import Category, CategoryRule, Method


def _rule(overhead: str, contingency: str, method: Method, percent: str) -> CategoryRule:
    return CategoryRule(Decimal(overhead), Decimal(contingency), method, Decimal(percent))


START_RULES = {
    Category.LABOUR: _rule("15", "10", Method.MARGIN, "35"),
    Category.MATERIAL: _rule("5", "5", Method.MARKUP, "25"),
    Category.SUBCONTRACT: _rule("5", "5", Method.MARKUP, "20"),
    Category.EQUIPMENT: _rule("5", "0", Method.MARKUP, "20"),
    Category.DISPOSAL: _rule("5", "5", Method.MARKUP, "20"),
    Category.PERMIT: _rule("0", "0", Method.MARKUP, "0"),
    Category.ALLOWANCE: _rule("5", "0", Method.MARKUP, "15"),
}
"""Percent. Purchase tax and sales taxes start at none: they depend on the place."""

START_PLUMBER_COST = Decimal("110.00")
START_ELECTRICIAN_COST = Decimal("105.00")

START_MILESTONES = (
    ("Deposit on signing", Decimal(10)),
    ("Start of work", Decimal(40)),
    ("Tile set", Decimal(40)),
    ("Completion", Decimal(10)),
)

START_TERMS = "\n\n".join(
    (
        "This is a fixed price for the work listed above, for the room as we measured it. "
        "It holds until the date on page one.",
        "Work that is not listed is not in the price. If we open a wall or floor and find rot, mould, "
        "old wiring or pipes that must be put right, we stop, show you, and agree on the price and the "
        "extra days in writing before we go on.",
        "Allowances are sums set aside for things you still choose. If your choice costs more or less, "
        "the price follows it.",
        "Each payment is due when its stage is reached. Some places limit how much may be asked as a "
        "deposit; where a local rule sets a lower amount, that amount applies.",
        "Permits and inspections follow the rules of your town. Plumbing, wiring and gas are done by "
        "licensed trades where the law asks for it. Local codes and the inspector decide.",
        "You give us clear access, water, power and a place for a container. Please keep children and "
        "pets away from the work.",
        "Please tell us about a fault in our work in writing as soon as you see it. We come and put it "
        "right.",
        "Local law may give you further rights, such as a time in which you may withdraw. Nothing here "
        "takes them away.",
    )
)
"""Plain words to start from; the firm has them checked for the place where it works."""
