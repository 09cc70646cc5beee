"""Bills by percent complete."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.engine.billing.progress import BadProgress, Item, earned, progress_bill, retainage_on

ITEMS = [
    Item("demo", "Demolition", Decimal("1000.01")),
    Item("tile", "Tile floor", Decimal("2500.00")),
    Item("C1", "Change C1", Decimal("-99.99")),
]
PERCENT = st.integers(0, 10_000).map(lambda hundredths: Decimal(hundredths) / 100)


def percents(**typed: str) -> dict[str, Decimal]:
    """Percent complete by item."""
    return {key: Decimal(percent) for key, percent in typed.items()}


def test_each_item_earns_its_percent_rounded_once() -> None:
    # 1000.01 × 50% = 500.005 → 500.01; 2500.00 × 12.25% = 306.25; −99.99 × 50% = −49.995 → −50.00
    assert earned(ITEMS, percents(demo="50", tile="12.25", C1="50")) == Decimal("756.26")


def test_an_item_without_a_percent_has_earned_nothing() -> None:
    assert earned(ITEMS, {}) == 0


@given(st.lists(st.decimals(-10_000, 10_000, places=2), min_size=1, max_size=8))
def test_all_done_earns_exactly_the_whole(amounts: list[Decimal]) -> None:
    items = [Item(str(place), "Item", amount) for place, amount in enumerate(amounts)]

    assert earned(items, dict.fromkeys(map(str, range(len(items))), Decimal(100))) == sum(amounts)


def test_a_bill_is_what_is_earned_less_what_is_billed() -> None:
    before, now = percents(demo="50"), percents(demo="100", tile="50")

    # 1000.01 + 1250.00 − 500.01
    assert progress_bill(ITEMS, before, now, Decimal("500.01")) == Decimal("1750.00")


def test_an_item_that_is_not_named_stays_where_it_was() -> None:
    before = percents(demo="100")

    assert progress_bill(ITEMS, before, percents(tile="10"), Decimal("1000.01")) == Decimal("250.00")


@given(st.lists(st.lists(PERCENT, min_size=3, max_size=3), max_size=6))
def test_bills_by_progress_add_up_to_the_contract(told: list[list[Decimal]]) -> None:
    items = [*ITEMS[:2], Item("grout", "Grout", Decimal("333.33"))]
    before, billed = {item.key: Decimal(0) for item in items}, Decimal("0.00")

    for asked in [*told, [Decimal(100)] * 3]:
        now = {item.key: max(before[item.key], percent) for item, percent in zip(items, asked, strict=True)}
        if earned(items, now) > billed:
            billed += progress_bill(items, before, now, billed)
            before = now

    assert billed == Decimal("3833.34")


def test_going_back_is_refused_by_the_items_name() -> None:
    before, now = percents(demo="80", tile="50"), percents(demo="70.5", tile="100")

    with pytest.raises(BadProgress, match=r"Demolition .* at 80% and cannot go back to 70\.5%") as refused:
        progress_bill(ITEMS, before, now, Decimal("2050.01"))

    assert [problem.field for problem in refused.value.problems] == ["percents[demo]"]


def test_going_back_is_allowed_after_a_credit_note() -> None:
    before, now = percents(demo="80", tile="50"), percents(demo="50", tile="50")

    # Earned by `before` 2050.01; a credit note of 500.00 leaves 1550.01 billed. Now earned 500.01 + 1250.00.
    assert progress_bill(ITEMS, before, now, Decimal("1550.01")) == Decimal("200.00")


@pytest.mark.parametrize("billed", ["500.01", "900.00"])
def test_nothing_is_billed_when_no_more_is_earned(billed: str) -> None:
    before = percents(demo="50")

    with pytest.raises(BadProgress, match=r"earned 500\.01, and .* is already billed"):
        progress_bill(ITEMS, before, before, Decimal(billed))


@pytest.mark.parametrize(
    ("key", "percent", "words"),
    [
        ("tile", "100.01", "Tile floor: a percentage is from 0 to 100"),
        ("tile", "-1", "from 0 to 100"),
        ("tile", "NaN", "from 0 to 100"),
        ("tile", "12.345", "at most two decimals"),
        ("bath", "10", "no item “bath”"),
    ],
)
def test_a_wrong_percent_is_refused_by_item(key: str, percent: str, words: str) -> None:
    with pytest.raises(BadProgress, match=words) as refused:
        progress_bill(ITEMS, {}, percents(**{key: percent}), Decimal(0))

    assert [problem.field for problem in refused.value.problems] == [f"percents[{key}]"]


def test_retainage_is_a_share_of_the_bill_rounded_half_up() -> None:
    assert retainage_on(Decimal("1000.05"), Decimal(10)) == Decimal("100.01")
    assert retainage_on(Decimal("1000.05"), Decimal(0)) == 0


@pytest.mark.parametrize("percent", ["-1", "100.5", "5.125", "NaN"])
def test_a_wrong_retainage_is_refused(percent: str) -> None:
    with pytest.raises(BadProgress, match="Retainage"):
        retainage_on(Decimal("100.00"), Decimal(percent))
