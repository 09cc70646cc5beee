"""Stock lengths are cut as cheaply as can be: by hand, against every way there is, and against a solver."""

from decimal import Decimal
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from quoting.engine.materials.cutting_stock import CannotCut, Stock, cut_stock, splice

EIGHT, TWELVE = Stock(96, Decimal("7.00")), Stock(144, Decimal("10.00"))
SIXTEEN = Stock(192, Decimal("14.50"))

sixteenths = st.integers(4 * 16, 96 * 16).map(lambda n: n / 16)
kerfs = st.sampled_from([0.0, 0.0625, 0.125])


def cheapest_by_every_way(lengths: list[float], stock: list[Stock], kerf: float) -> Decimal:
    """Price of the best way to part the pieces into bars, every way tried."""
    everything = (1 << len(lengths)) - 1

    @cache
    def bar(chosen: int) -> Decimal:
        pieces = [length for place, length in enumerate(lengths) if chosen >> place & 1]
        used = sum(pieces) + kerf * (len(pieces) - 1)
        return min((one.price for one in stock if used <= one.length), default=Decimal("Infinity"))

    @cache
    def best(left: int) -> Decimal:
        if not left:
            return Decimal(0)
        first = left & -left
        others, found, chosen = left ^ first, Decimal("Infinity"), left ^ first
        while True:
            if (price := bar(chosen | first)).is_finite():
                found = min(found, price + best(others ^ chosen))
            if not chosen:
                return found
            chosen = (chosen - 1) & others

    return best(everything)


def cheapest_by_a_solver(lengths: list[float], stock: list[Stock], kerf: float) -> Decimal:
    """The same from a constraint solver that picks bars from all that can be cut, in cents."""
    model = cp_model.CpModel()
    holding: list[list[cp_model.IntVar]] = [[] for _ in lengths]
    paid = []
    for chosen in range(1, 1 << len(lengths)):
        places = [place for place in range(len(lengths)) if chosen >> place & 1]
        used = sum(lengths[place] for place in places) + kerf * (len(places) - 1)
        prices = [one.price for one in stock if one.price is not None and used <= one.length]
        if prices:
            is_cut = model.new_bool_var("")
            paid.append(int(min(prices) * 100) * is_cut)
            for place in places:
                holding[place].append(is_cut)
    for bars in holding:
        model.add_exactly_one(bars)
    model.minimize(sum(paid))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return Decimal(int(solver.objective_value)) / 100


def test_three_pieces_that_fill_a_bar_come_from_one() -> None:
    plan = cut_stock([32, 32, 32], EIGHT)

    assert len(plan.bars) == 1
    assert (plan.cost, plan.waste, plan.is_proven) == (Decimal("7.00"), 0, True)


def test_the_saw_takes_its_cut_between_pieces_but_not_after_the_last() -> None:
    assert len(cut_stock([32, 32, 31.75], EIGHT, kerf=0.125).bars) == 1
    assert len(cut_stock([32, 32, 32], EIGHT, kerf=0.125).bars) == 2


def test_longest_first_is_not_enough() -> None:
    """Bars of 10: longest first cuts 4 + 4, then 3 + 3 + 3, then 3; two bars of 4 + 3 + 3 hold all."""
    plan = cut_stock([4, 4, 3, 3, 3, 3], Stock(10))

    assert sorted(bar.pieces for bar in plan.bars) == [(4, 3, 3), (4, 3, 3)]
    assert plan.waste == 0


def test_the_cheaper_mix_of_lengths_is_bought() -> None:
    """60 + 60 + 20 in: one 12 ft at 10.00 beats two of 8 ft at 14.00; 90 in: one of 8 ft."""
    assert [bar.stock for bar in cut_stock([60, 60, 20], [EIGHT, TWELVE]).bars] == [TWELVE]
    assert [bar.stock for bar in cut_stock([90], [EIGHT, TWELVE]).bars] == [EIGHT]


def test_without_a_price_the_least_length_is_bought_and_no_cost_is_said() -> None:
    plan = cut_stock([90, 40], [Stock(96, Decimal(1)), Stock(144)])

    assert plan.cost is None
    assert plan.bought == 144


def test_what_is_left_of_a_bar_is_less_its_cuts() -> None:
    (bar,) = cut_stock([50, 30], EIGHT, kerf=0.125).bars

    assert bar.left == pytest.approx(96 - 80 - 0.25)


def test_no_pieces_take_no_stock() -> None:
    plan = cut_stock([], EIGHT)

    assert (plan.bars, plan.cost, plan.waste) == ((), 0, 0)


def test_the_reason_says_what_is_bought_and_whether_it_is_proven() -> None:
    plan = cut_stock([60, 60, 20], [EIGHT, TWELVE], kerf=0.125)

    assert plan.why.worked == "pieces: 3, 140 in in all, cuts of 0.125 in: 1 × 144 in; no cheaper way exists"


def test_a_piece_longer_than_any_stock_is_refused_by_its_number() -> None:
    with pytest.raises(CannotCut) as refused:
        cut_stock([50, 120], EIGHT)

    (problem,) = refused.value.problems
    assert problem.field == "lengths[1]"
    assert "longer than the longest stock, 96 in" in problem.message


@pytest.mark.parametrize(
    ("lengths", "stock", "kerf", "field"),
    [
        ([0], EIGHT, 0, "lengths[0]"),
        ([float("nan")], EIGHT, 0, "lengths[0]"),
        ([5], [], 0, "stock"),
        ([5], Stock(-1), 0, "stock[0].length"),
        ([5], Stock(10, Decimal(-1)), 0, "stock[0].price"),
        ([5], EIGHT, -0.1, "kerf"),
        ([5] * 1000, EIGHT, 0, "lengths"),
    ],
)
def test_what_can_not_be_cut_is_named(lengths: list[float], stock: Stock, kerf: float, field: str) -> None:
    with pytest.raises(CannotCut) as refused:
        cut_stock(lengths, stock, kerf)

    assert refused.value.problems[0].field == field


@given(lengths=st.lists(sixteenths, min_size=1, max_size=8), kerf=kerfs, mixed=st.booleans())
@settings(deadline=None, max_examples=60)
def test_up_to_eight_pieces_cost_what_the_best_of_all_ways_costs(
    lengths: list[float], kerf: float, mixed: bool
) -> None:
    stock = [EIGHT, TWELVE, SIXTEEN] if mixed else [EIGHT]

    plan = cut_stock(lengths, stock, kerf)

    assert plan.is_proven
    assert plan.cost == cheapest_by_every_way(lengths, stock, kerf)


@pytest.mark.slow
@pytest.mark.parametrize("stock", [[EIGHT], [EIGHT, TWELVE]])
@pytest.mark.parametrize(
    "lengths",
    [
        [41.5, 40, 37.25, 33, 31.125, 29, 27.5, 24, 22.25, 19, 17.5, 12],
        [60, 58, 56, 40, 39, 38, 36, 35, 34, 20, 19, 18],
        [31.9375] * 6 + [32.0625] * 6,
    ],
)
def test_twelve_pieces_cost_what_the_best_of_all_ways_costs(lengths: list[float], stock: list[Stock]) -> None:
    plan = cut_stock(lengths, stock, 0.125)

    assert plan.is_proven
    assert plan.cost == cheapest_by_every_way(lengths, stock, 0.125)


@pytest.mark.slow
@pytest.mark.parametrize("count", [10, 13, 16])
@pytest.mark.parametrize("stock", [[EIGHT], [EIGHT, TWELVE]])
def test_a_solver_finds_nothing_cheaper(count: int, stock: list[Stock]) -> None:
    lengths = [12 + (place * 37) % 71 + (place % 5) / 4 for place in range(count)]

    plan = cut_stock(lengths, stock, 0.125)

    assert plan.is_proven
    assert plan.cost == cheapest_by_a_solver(lengths, stock, 0.125)


@given(lengths=st.lists(sixteenths, min_size=1, max_size=30), kerf=kerfs)
@settings(deadline=None, max_examples=20)
def test_every_piece_is_cut_once_and_no_bar_is_overfull(lengths: list[float], kerf: float) -> None:
    plan = cut_stock(lengths, [EIGHT, TWELVE], kerf)

    assert sorted(piece for bar in plan.bars for piece in bar.pieces) == sorted(lengths)
    for bar in plan.bars:
        assert sum(bar.pieces) + kerf * (len(bar.pieces) - 1) <= bar.stock.length + 1e-9
    assert plan.bought >= plan.used


@given(lengths=st.lists(sixteenths, min_size=1, max_size=7), data=st.data())
@settings(deadline=None, max_examples=40)
def test_the_order_of_the_pieces_is_nothing_to_the_price(lengths: list[float], data: st.DataObject) -> None:
    shuffled = data.draw(st.permutations(lengths))

    assert cut_stock(lengths, [EIGHT, TWELVE]).cost == cut_stock(shuffled, [EIGHT, TWELVE]).cost


@given(length=st.floats(1, 2000), longest=st.floats(40, 200))
def test_a_spliced_run_is_its_pieces_and_ends_with_no_stub(length: float, longest: float) -> None:
    pieces = splice(length, longest)

    assert sum(pieces) == pytest.approx(length)
    assert max(pieces) <= longest + 1e-9
    assert len(pieces) == 1 or min(pieces) >= 16 - 1e-9
