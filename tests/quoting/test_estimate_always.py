"""What always holds of an estimate, for any small books and rooms: sums, shares, hours, options."""

from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as some

from labour.engine.scope import LineKind, ScopeLine, ScopeTemplate
from labour.engine.tasks import Task
from labour.engine.vocabulary import Phase
from quoting.engine.estimate import Books, Changes, RoomScope, estimate
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.materials.values import ConsumptionRule, Material, RuleKind
from quoting.engine.pricing.values import Category, Discount, PricePolicy
from tests.hall_bath import PRICE_RULES, TAXES
from tests.labour.rooms import make_figures

rates = some.decimals("0.05", "60", places=2)
prices = some.none() | some.decimals("0", "900", places=2)
sizes = some.decimals("0.5", "60", places=1)
uses_per_unit = some.decimals("0.01", "3", places=2)
quantities = some.decimals("0", "300", places=3)


@some.composite
def small_books(draw: some.DrawFn) -> Books:
    """Two to four tasks, each using up to two of three materials, priced by the hall bath's rules."""
    count = draw(some.integers(2, 4))
    tasks = [
        Task(f"t{n}", f"Task {n}", f"Task {n}", draw(some.sampled_from(Phase)), "sq_ft", *[draw(rates)] * 3,
             draw(some.decimals("0", "2", places=2)), 1, 2, licence=draw(some.sampled_from(["", "plumbing"])))
        for n in range(count)
    ]  # fmt: skip
    kinds = some.sampled_from([category for category in Category if category is not Category.LABOUR])
    materials = {
        code: Material(code, code, draw(kinds), "each", "box", draw(sizes), draw(prices)) for code in "abc"
    }
    rules: dict[str, tuple[ConsumptionRule, ...]] = {}
    for task in tasks:
        used = draw(some.lists(some.sampled_from("abc"), max_size=2, unique=True))
        rules[task.code] = tuple(
            ConsumptionRule(task.code, code, RuleKind.EACH, {"per_unit": draw(uses_per_unit)})
            for code in used
        )
    policy = PricePolicy(PRICE_RULES, TAXES, draw(some.decimals("1", "99", places=2)), "the crew",
                         {"plumbing": Decimal("80.00")})  # fmt: skip
    return Books({task.code: task for task in tasks}, Catalogue(materials, rules), policy)


@some.composite
def small_jobs(draw: some.DrawFn) -> tuple[list[RoomScope], Books]:
    """One to three rooms in which every task is done over the floor, some of them as an option."""
    books = draw(small_books())
    lines = tuple(
        ScopeLine("", LineKind.TASK, code, "floor_area", "", draw(some.sampled_from(["", "", "Extra"])))
        for code in books.tasks
    )
    template = ScopeTemplate("any", "Any", "Any work.", lines)
    rooms = [
        RoomScope(make_figures(name=f"Room {n}", floor_area=str(draw(quantities))), template)
        for n in range(draw(some.integers(1, 3)))
    ]
    return rooms, books


discounts = some.builds(Discount, percent=some.decimals("0", "100", places=2))


@settings(max_examples=60)
@given(job=small_jobs(), discount=discounts)
def test_lines_and_discount_make_the_subtotal_and_taxes_the_total(job, discount):
    found = estimate(*job, Changes(), discount).price

    assert sum((line.amount for line in found.lines), found.discount) == found.subtotal
    assert found.subtotal + sum(tax.amount for tax in found.taxes) == found.total
    assert all(sum(part.price for part in line.parts) == line.amount for line in found.lines)
    assert sum(total.price for total in found.categories) + found.discount == found.subtotal
    assert found.subtotal - found.cost == found.margin


@settings(max_examples=60)
@given(job=small_jobs())
def test_what_is_bought_costs_what_the_lines_carry_to_the_cent(job):
    priced = estimate(*job, Changes(), Discount())

    carried = sum(
        (cost.amount for line in priced.price.lines for cost in line.line.costs
         if cost.amount is not None and "packs bought" in cost.why.formula),
        Decimal(0),
    )  # fmt: skip
    known = [purchase for purchase in priced.purchases if purchase.cost is not None]
    assert all(sum(purchase.shares.values()) == purchase.cost for purchase in known)
    assert all(p.cost == p.packs * p.material.price and p.leftover >= 0 for p in known)
    if len(known) == len(priced.purchases):
        assert carried == sum(purchase.cost for purchase in known)


@settings(max_examples=60)
@given(job=small_jobs())
def test_hours_of_the_lines_make_the_hours_of_the_plans(job):
    priced = estimate(*job, Changes(), Discount())

    of_base = {work.key for work in priced.works if not work.option}
    shown = sum((hours.hours for key, hours in priced.hours.items() if key in of_base), Decimal(0))
    assert shown == priced.own.hours + priced.bought.hours
    assert set(priced.hours) == {work.key for work in priced.works}


@settings(max_examples=40)
@given(job=small_jobs())
def test_taking_every_option_leaves_none_and_loses_no_line(job):
    without = estimate(*job, Changes(), Discount())
    taken = estimate(*job, Changes(options=frozenset({"Extra"})), Discount())

    offered = [line for option in without.options for line in option.lines]
    assert taken.options == ()
    assert {line.line.key for line in taken.price.lines} == {
        line.line.key for line in (*without.price.lines, *offered)
    }
    assert taken.own.hours + taken.bought.hours >= without.own.hours + without.bought.hours
