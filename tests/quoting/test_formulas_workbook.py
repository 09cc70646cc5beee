"""The workbook that speed is measured against does the same arithmetic."""

from decimal import Decimal
from pathlib import Path

import pytest

from quoting.engine.pricing.build_up import build_price
from quoting.engine.pricing.values import Category, Method
from tests.bench.formulas_workbook import build_workbook, calculate_with_formulas
from tests.quoting.costs import make_line, make_policy, make_rule, make_tax

LABOUR, MATERIAL = Category.LABOUR, Category.MATERIAL


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore")
def test_the_workbook_comes_to_the_same_total_to_the_cent(tmp_path: Path) -> None:
    rules = {
        LABOUR: make_rule(overhead="15", contingency="10", method=Method.MARGIN, percent="35"),
        MATERIAL: make_rule(overhead="5", contingency="5", percent="25", tax="6.25"),
    }
    policy = make_policy(rules, make_tax("State", "6.25", MATERIAL), make_tax("City", "1.1"))
    amounts = [Decimal("37.13") + place * Decimal("91.07") for place in range(40)]
    parts = [{LABOUR: str(amount), MATERIAL: str(amount * 2), Category.PERMIT: None} for amount in amounts]
    lines = [make_line(costs, key=f"hall/{place}") for place, costs in enumerate(parts)]
    lines.append(make_line({LABOUR: "500.00"}, option="Heated floor"))

    build_workbook(lines, policy, tmp_path / "price.xlsx")
    recalculate = calculate_with_formulas(tmp_path / "price.xlsx")

    assert recalculate() == recalculate() == build_price(lines, policy).total
