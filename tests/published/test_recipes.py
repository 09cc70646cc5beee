"""Unit compositions of the Brazilian national cost system (SINAPI, Caixa/IBGE), through the engine.

Compositions 93391 (AF_02/2023) and 98556 (AF_06/2018), in the rows S01 and S07: hours and materials a square
metre; totals S26 and S28 as printed. Seen on pages that reproduce the official composition.
"""

from decimal import ROUND_DOWN, Decimal

import pytest

from quoting.engine.materials.consumption import use_of
from quoting.engine.materials.values import ConsumptionRule, RuleKind
from quoting.engine.pricing.money import to_cents

type Recipe = tuple[tuple[str, str], ...]

FLOOR_TILE: Recipe = (  # S01: tiler, helper, mortar, grout, tile, each with its price in S26
    ("0.2411", "31.60"),
    ("0.1290", "24.36"),
    ("9.1325", "1.08"),
    ("0.2410", "6.34"),
    ("1.0571", "45.18"),
)
LIQUID_MEMBRANE: Recipe = (  # S07: waterproofer, helper, membrane, veil, each with its price in S28
    ("0.881", "33.68"),
    ("0.178", "30.27"),
    ("4.2", "3.48"),
    ("1.351", "8.06"),
)


def line_costs(recipe: Recipe) -> list[Decimal]:
    """Exact cost of each line for one square metre: what the engine says is used × price."""
    costs = []
    for per_unit, price in recipe:
        rule = ConsumptionRule("recipe", "line", RuleKind.EACH, {"per_unit": Decimal(per_unit)})
        costs.append(use_of(rule, Decimal(1), "line").amount * Decimal(price))
    return costs


@pytest.mark.parametrize(
    ("recipe", "lines", "total"),
    [
        (FLOOR_TILE, "7.61 3.14 9.86 1.52 47.75", "69.88"),  # S26 (seen)
        (LIQUID_MEMBRANE, "29.67 5.38 14.61 10.88", "60.54"),  # S28 (seen)
    ],
)
def test_a_recipe_gives_its_printed_total_when_lines_are_cut_to_the_cent(
    recipe: Recipe, lines: str, total: str
) -> None:
    cut = [cost.quantize(Decimal("0.01"), ROUND_DOWN) for cost in line_costs(recipe)]

    assert [str(amount) for amount in cut] == lines.split()
    assert sum(cut) == Decimal(total)


@pytest.mark.parametrize(("recipe", "total"), [(FLOOR_TILE, "69.91"), (LIQUID_MEMBRANE, "60.57")])
def test_rounding_each_line_half_up_gives_another_total(recipe: Recipe, total: str) -> None:
    """S32 (derived): the printed totals hold only for cut lines; this house rounds half up."""
    assert sum(to_cents(cost) for cost in line_costs(recipe)) == Decimal(total)


@pytest.mark.parametrize(
    ("printed", "waste"),
    [
        ("1.0571", "5.71"),  # S01
        ("1.05", "5"),  # S03
        ("1.11", "11"),  # S04
        ("1.09", "9"),  # S05
        ("1.0838", "8.38"),  # S17
    ],
)
def test_a_waste_percent_gives_the_printed_use_of_tile_and_board(printed: str, waste: str) -> None:
    """S35 (derived): one square metre of work takes this many square metres of tile or board."""
    rule = ConsumptionRule("recipe", "tile", RuleKind.EACH, {"per_unit": Decimal(1)}, Decimal(waste))

    assert use_of(rule, Decimal(1), "line").amount == Decimal(printed)


def test_a_screed_of_6_61_cm_takes_0_0661_m3_a_square_metre() -> None:
    """S39 (seen): area × real thickness is the printed volume, here through inches and cubic feet."""
    values = {"depth": Decimal("6.61") / Decimal("2.54"), "yield": 1 / Decimal("0.028316846592")}
    rule = ConsumptionRule("screed", "mortar", RuleKind.DEPTH, values)

    used = use_of(rule, 1 / Decimal("0.09290304"), "line")

    assert round(used.amount, 8) == Decimal("0.0661")
