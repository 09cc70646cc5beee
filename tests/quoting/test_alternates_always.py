"""What always holds of alternates, for any small books and rooms: sums, what goes back, what is left."""

from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as some

from labour.engine.scope import LineKind, ScopeLine, ScopeTemplate
from quoting.engine.alternates import OptionsExclude
from quoting.engine.estimate import Books, Changes, RoomScope, estimate
from quoting.engine.options_view import excludes_of
from quoting.engine.pricing.options import take_back
from quoting.engine.pricing.values import Discount
from tests.labour.rooms import make_figures
from tests.quoting.test_estimate_always import discounts, quantities, small_books


@some.composite
def small_choices(draw: some.DrawFn) -> tuple[list[RoomScope], Books]:
    """One or two rooms; base lines give way to none, one or both of two options, which every room has."""
    books = draw(small_books())
    lines = [ScopeLine("", LineKind.TASK, "t0", "floor_area", option=name) for name in ("One", "Two")]
    gives_way = some.sampled_from(["", "One", "Two", "One; Two"])
    lines += [
        ScopeLine("", LineKind.TASK, code, "floor_area", unless=draw(gives_way)) for code in books.tasks
    ]
    template = ScopeTemplate("any", "Any", "Any work.", tuple(lines))
    rooms = [
        RoomScope(make_figures(name=f"Room {n}", floor_area=str(draw(quantities))), template)
        for n in range(draw(some.integers(1, 2)))
    ]
    return rooms, books


@settings(max_examples=60)
@given(job=small_choices(), discount=discounts)
def test_lines_and_credits_of_an_option_make_its_sums(job, discount):
    priced = estimate(*job, Changes(), discount)

    for option in priced.options:
        amounts = [line.amount for line in (*option.lines, *option.replaced)]
        assert sum(amounts, Decimal(0)) == option.subtotal == sum(option.nets.values(), Decimal(0))
        assert option.subtotal + sum(tax.amount for tax in option.taxes) == option.total
        assert all(line.amount <= 0 for line in option.replaced)


@settings(max_examples=60)
@given(job=small_choices(), discount=discounts)
def test_every_line_taken_back_leaves_nothing_of_the_price_before_tax(job, discount):
    price = estimate(*job, Changes(), discount).price

    credits = take_back(price, {line.line.key for line in price.lines})

    assert sum((line.amount for line in credits.values()), price.subtotal) == 0


@settings(max_examples=60)
@given(job=small_choices(), discount=discounts)
def test_of_options_that_exclude_each_other_one_alone_is_ever_in_the_price(job, discount):
    priced = estimate(*job, Changes(), discount)
    exclude = any(excludes_of(option, priced) for option in priced.options)

    try:
        taken = estimate(*job, Changes(options=frozenset({"One", "Two"})), Discount())
    except OptionsExclude:
        assert exclude or not priced.options
    else:
        assert not exclude
        assert taken.options == ()
        assert not any(work.unless for work in taken.works)
