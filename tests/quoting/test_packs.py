"""Buying: packs are rounded up once for the job, and the cost is split over the lines to the cent."""

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from labour.engine.why import Why
from quoting.engine.materials.packs import CannotBuy, buy
from quoting.engine.materials.values import Material, Use
from quoting.engine.pricing.values import Category

AMOUNTS = st.lists(st.decimals("0.01", "500", places=2), min_size=1, max_size=12)
SIZES = st.decimals("0.25", "60", places=2)


def make_bag(price: str | None = "24.80", size: str = "50") -> Material:
    paid = None if price is None else Decimal(price)
    return Material(
        "thinset", "Thin-set", Category.MATERIAL, "lb", "50 lb bag", Decimal(size), paid, date(2026, 10, 1)
    )


def make_uses(*amounts: str | Decimal) -> list[Use]:
    return [
        Use(f"Bath/line {place}", "thinset", Decimal(amount), Why("by hand", ""))
        for place, amount in enumerate(amounts, 1)
    ]


def test_lines_share_the_packs_of_the_job() -> None:
    """30 + 15 + 15 = 60 lb: two bags, not three; 49.60 split 30 : 15 : 15; 40 lb left."""
    (bought,) = buy(make_uses("30", "15", "15"), {"thinset": make_bag()})

    assert (bought.amount, bought.packs, bought.leftover) == (60, 2, 40)
    assert bought.cost == Decimal("49.60")
    assert list(bought.shares.values()) == [Decimal("24.80"), Decimal("12.40"), Decimal("12.40")]


def test_a_purchase_says_how_it_came_about() -> None:
    (bought,) = buy(make_uses("60"), {"thinset": make_bag()})

    assert bought.why.worked == "60 lb ÷ 50 lb → 2 × 50 lb bag; 2 × 24.80 = 49.60; 40 lb left over"
    assert bought.why.source == "catalogue, 2026-10-01"


def test_a_missing_price_leaves_the_cost_open() -> None:
    (bought,) = buy(make_uses("60"), {"thinset": make_bag(price=None)})

    assert (bought.packs, bought.cost, bought.shares) == (2, None, {})
    assert "price missing" in bought.why.worked


def test_a_line_that_uses_a_material_by_two_rules_has_one_share() -> None:
    first, second = make_uses("10", "10")
    again = Use(first.key, "thinset", Decimal(30), Why("by hand", ""))

    (bought,) = buy([first, second, again], {"thinset": make_bag()})

    assert bought.shares == {first.key: Decimal("19.84"), second.key: Decimal("4.96")}


def test_each_material_is_bought_once_in_the_order_of_first_use() -> None:
    thinset, more = make_uses("10", "45")
    screws = Use("Bath/board", "screws", Decimal(20), Why("by hand", ""))
    box = Material("screws", "Screws", Category.MATERIAL, "each", "box", Decimal(185), Decimal("12.90"))

    bought = buy([thinset, screws, more], {"screws": box, "thinset": make_bag()})

    assert [(p.material.code, p.packs) for p in bought] == [("thinset", 2), ("screws", 1)]


def test_the_dust_of_a_division_does_not_buy_another_bag() -> None:
    third = Decimal(50) / 3 + Decimal("1e-20")

    (bought,) = buy(make_uses(third, third, third), {"thinset": make_bag()})

    assert (bought.packs, bought.leftover) == (1, 0)


def test_nothing_used_buys_nothing() -> None:
    (bought,) = buy(make_uses("0"), {"thinset": make_bag()})

    assert (bought.packs, bought.cost, list(bought.shares.values())) == (0, 0, [0])
    assert buy([], {}) == ()


def test_an_unknown_material_is_named_with_its_line() -> None:
    with pytest.raises(CannotBuy) as refused:
        buy(make_uses("5"), {})

    assert "Bath/line 1" in str(refused.value)
    assert "“thinset”" in str(refused.value)


@pytest.mark.parametrize("amount", ["-0.01", "NaN", "Infinity"])
def test_an_amount_must_be_sensible(amount: str) -> None:
    with pytest.raises(CannotBuy, match="zero or more"):
        buy(make_uses(amount), {"thinset": make_bag()})


def test_an_empty_pack_is_refused() -> None:
    with pytest.raises(CannotBuy, match="a pack holds something"):
        buy(make_uses("1"), {"thinset": make_bag(size="0")})


@given(amounts=AMOUNTS, size=SIZES)
def test_twice_the_work_takes_twice_the_amount_and_at_most_twice_the_packs(
    amounts: list[Decimal], size: Decimal
) -> None:
    books = {"thinset": make_bag(size=str(size))}

    (once,) = buy(make_uses(*amounts), books)
    (twice,) = buy(make_uses(*[2 * amount for amount in amounts]), books)

    assert twice.amount == 2 * once.amount
    assert once.packs <= twice.packs <= 2 * once.packs


@given(amounts=AMOUNTS, size=SIZES, price=st.decimals("0", "999.99", places=2))
def test_packs_just_suffice_and_the_shares_add_up_to_the_cost(
    amounts: list[Decimal], size: Decimal, price: Decimal
) -> None:
    (bought,) = buy(make_uses(*amounts), {"thinset": make_bag(str(price), str(size))})

    assert bought.packs * size >= bought.amount > (bought.packs - 1) * size
    assert bought.leftover == bought.packs * size - bought.amount
    assert sum(bought.shares.values()) == bought.cost == bought.packs * price
