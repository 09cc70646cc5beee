"""A job reckoned up: parts of hours and money that add up exactly, worked by hand."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from labour.engine.variance import CostParts, HoursParts
from quoting.engine.closing import Done, Profit, house_factor, reckon_labour
from quoting.engine.closing_words import sentence_for
from quoting.engine.estimated_costs import estimated_costs
from quoting.engine.pricing.values import Category

_NONE = Decimal("0.00")
hours = st.decimals(0, 200, places=2)
tasks = st.builds(
    Done, hours, hours, hours, st.decimals(0, 20_000, places=4), st.sampled_from([Decimal(1), Decimal("1.2")])
)


def done(estimated: str, at_quantity: str, actual: str, cost: str, condition: str = "1") -> Done:
    return Done(*map(Decimal, (estimated, at_quantity, actual, cost, condition)))


def test_one_task_is_split_by_hand() -> None:
    # 8 h at 50.00 were estimated; 10 h were due for what was done; 12 h at 60.00 were worked.
    labour = reckon_labour([done("8", "10", "12", "720")], Decimal("400.00"))

    assert labour.cost == CostParts(Decimal("100.00"), Decimal("100.00"), Decimal("120.00"))
    assert labour.hours == HoursParts(Decimal("2.00"), _NONE, _NONE, Decimal("2.00"))
    assert labour.cost.total == Decimal("720.00") - Decimal("400.00")


def test_what_was_found_later_comes_before_the_rest() -> None:
    # 10 h × 1.2 = 12 h with the condition; 13 h were worked: 2 h found later, 1 h of the task itself.
    labour = reckon_labour([done("10", "10", "13", "650", "1.2")], Decimal("500.00"))

    assert labour.hours == HoursParts(_NONE, Decimal("2.00"), _NONE, Decimal("1.00"))


def test_what_all_tasks_have_in_common_is_the_jobs() -> None:
    # Four tasks, each 1.5 × the estimate: log 1.5 = 0.405465; exp(4 × 0.405465 ÷ 7) = exp(0.231694) = 1.2607.
    worked = [done("10", "10", "15", "750")] * 4

    assert house_factor(worked) == Decimal("1.2607")
    assert reckon_labour(worked, Decimal("2000.00")).tasks[0].hours == HoursParts(
        _NONE, _NONE, Decimal("2.61"), Decimal("2.39")
    )


def test_a_single_task_says_nothing_of_the_job() -> None:
    assert house_factor([done("10", "10", "15", "750"), done("10", "10", "0", "0")]) == 1


def test_a_task_without_hours_saved_all_of_them() -> None:
    labour = reckon_labour([done("4", "4", "0", "0", "1.5")], Decimal("200.00"))

    assert labour.hours == HoursParts(_NONE, _NONE, _NONE, Decimal("-4.00"))
    assert labour.cost.total == Decimal("-200.00")


def test_hours_without_an_estimate_are_all_over_it() -> None:
    labour = reckon_labour([done("0", "0", "3", "120")], _NONE)

    assert labour.cost.total == Decimal("120.00")
    assert labour.hours.total == Decimal("3.00")


@given(st.lists(tasks, max_size=8), st.decimals(0, 50_000, places=2))
def test_parts_add_up_for_every_task_and_for_the_job(worked: list[Done], estimated: Decimal) -> None:
    labour = reckon_labour(worked, estimated)

    for one, task in zip(worked, labour.tasks, strict=True):
        assert task.hours.total == one.actual - one.estimated
        assert task.cost.total == task.actual_cost - task.estimated_cost
    assert labour.cost.total == labour.actual_cost - estimated
    assert sum(task.actual_cost for task in labour.tasks) == labour.actual_cost
    if labour.estimated_hours:
        assert sum(task.estimated_cost for task in labour.tasks) == estimated


def test_profit_is_what_costs_and_overhead_leave() -> None:
    profit = Profit(net=Decimal("1000.00"), cost=Decimal("600.00"), overhead=Decimal("150.00"))

    assert (profit.profit, profit.margin) == (Decimal("250.00"), Decimal("25.00"))


def test_the_sentence_names_the_largest_part() -> None:
    labour = reckon_labour([done("8", "12", "13", "650")], Decimal("400.00"))

    words = sentence_for("Tile", labour.tasks[0], labour.wage, (Decimal(80), Decimal(120), "sq ft"))

    assert words == (
        "Tile: 5.00 h more than estimated, mostly because more was done: 120 instead of 80 sq ft."
    )


VIEW = {
    "categories": [
        {"category": "labour", "direct": "100.00", "purchase_tax": "0.00", "overhead": "25.00",
         "contingency": "12.50", "price": "200.00"},
        {"category": "material", "direct": "50.00", "purchase_tax": "4.00", "overhead": "0.00",
         "contingency": "0.00", "price": "60.00"},
    ],
    "lines": [
        {"key": "a", "costs": [{"category": "labour", "amount": "60.00"}]},
        {"key": "b", "costs": [{"category": "labour", "amount": "40.00"},
                               {"category": "material", "amount": "50.00"}]},
    ],
    "options": [
        {"name": "Better", "replaces": ["a"],
         "works": [{"key": "c", "costs": [{"category": "labour", "amount": "90.00"}]}]},
    ],
}  # fmt: skip


def test_estimated_costs_are_those_of_the_quote_with_the_tax_on_purchases() -> None:
    found = estimated_costs(VIEW, ())

    assert found.costs == {Category.LABOUR: Decimal("100.00"), Category.MATERIAL: Decimal("54.00")}
    assert (found.overhead, found.contingency) == (Decimal("25.00"), Decimal("12.50"))


def test_an_option_takes_the_place_of_what_it_replaces() -> None:
    found = estimated_costs(VIEW, ["Better"])

    assert found.costs[Category.LABOUR] == Decimal("130.00")
    assert found.overhead == Decimal("32.50")


def test_a_change_adds_its_cost_without_overhead_and_contingency() -> None:
    # 137.50 of labour with overhead and contingency are 100.00 bare: ÷ 1.25 ÷ 1.10.
    change = {"lines": [{"costs": [{"category": "labour", "cost": "137.50"}]}]}

    found = estimated_costs(VIEW, (), [change])

    assert found.costs[Category.LABOUR] == Decimal("200.00")


def test_the_cost_of_an_older_change_is_shared_as_its_price_is() -> None:
    nets = [{"category": "material", "taxes": [], "net": "30.00"}]
    change = {"cost": "20.00", "amounts": {"nets": nets, "taxes": []}, "lines": [{"cost": "20.00"}]}

    assert estimated_costs(VIEW, (), [change]).costs[Category.MATERIAL] == Decimal("74.00")
