"""The factor for cuts in the figures of quotes and change orders: written, read back, and risked."""

import json
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from labour.engine.hours import LabourPlan, PlannedWork
from labour.engine.planning import plan_hours
from labour.engine.why import Why
from quoting.engine.change_lines import read_lines
from quoting.engine.change_view import firm_view_of_change
from quoting.engine.changing import price_lines_of_change
from quoting.engine.estimate import Changes, estimate
from quoting.engine.figures import figures_of
from quoting.engine.hours_view import cutting_of_view, planned_hours
from quoting.engine.pricing.values import Discount
from tests.hall_bath import OPTION, make_books, make_scope
from tests.quoting.change_cast import hall_terms, work

WHY = Why("hours with these cuts ÷ hours with usual cuts", "53 ÷ 50 = 1.06", "starting guess")
CUT = Decimal("1.06")


def plan_with_cuts(works: Sequence[PlannedWork]) -> LabourPlan:
    """As a floor whose layout asks for more cuts than usual."""
    return plan_hours(
        [
            replace(work, cutting=CUT, cutting_why=WHY) if work.task.code == "tile-floor" else work
            for work in works
        ]
    )


def stored() -> dict[str, Any]:
    """Figures of the hall bath as they come back from the database."""
    priced = estimate([make_scope()], make_books(), Changes(), Discount(), plan_with_cuts)
    figures: dict[str, Any] = json.loads(json.dumps(figures_of(priced, year_built=1972)))
    return figures


def hours_of(figures: dict[str, Any], code: str) -> dict[str, Any]:
    (found,) = [line["hours"] for line in figures["firm_view"]["lines"] if line["code"] == code]
    return dict(found)


def test_a_line_keeps_the_factor_for_its_cuts_with_its_why() -> None:
    floor, wall = hours_of(stored(), "tile-floor"), hours_of(stored(), "tile-wall")

    assert (floor["cutting"], floor["cutting_why"]) == ("1.06", WHY.texts())
    assert "× 1.06 for its cuts = " in floor["why"]["worked"]
    assert (wall["cutting"], wall["cutting_why"]) == ("1", None)
    assert "cuts" not in wall["why"]["worked"]


def test_a_job_takes_the_factor_from_the_line() -> None:
    assert planned_hours(hours_of(stored(), "tile-floor"))["cutting"] == CUT
    assert planned_hours(hours_of(stored(), "tile-wall"))["cutting"] == 1


def test_figures_from_before_there_were_layouts_have_usual_cutting() -> None:
    old = hours_of(stored(), "tile-floor")
    del old["cutting"], old["cutting_why"]

    assert (planned_hours(old)["cutting"], cutting_of_view(old)) == (1, 1)


def test_a_longer_factor_is_kept_as_a_job_can_hold_it() -> None:
    # To the hundredth, half up.
    assert str(cutting_of_view({"cutting": "1.065"})) == "1.07"


def test_the_client_sees_nothing_of_it() -> None:
    assert "cutting" not in json.dumps(stored()["client_view"])


def test_the_lines_of_an_option_have_it_too() -> None:
    (option,) = [one for one in stored()["firm_view"]["options"] if one["name"] == OPTION]

    assert [work["hours"]["cutting"] for work in option["works"] if work["hours"]] == ["1"]


def test_the_work_of_a_change_order_keeps_it() -> None:
    priced = price_lines_of_change(read_lines([work("tile-floor", "22")]), hall_terms(), plan_with_cuts)

    (line,) = firm_view_of_change(priced)["lines"]

    # 0.50 + 22 ÷ 11 × 1.1 × 1.06 = 2.832
    assert (line["task"]["hours"], line["task"]["cutting"]) == ("2.83", "1.06")
    assert line["task"]["cutting_why"] == WHY.texts()
    assert planned_hours(line["task"])["cutting"] == CUT


@pytest.mark.parametrize("cutting", ["1.40", "0.80"])
def test_hours_with_cuts_are_the_price_of_the_line(cutting: str) -> None:
    def plan(works: Sequence[PlannedWork]) -> LabourPlan:
        return plan_hours([replace(work, cutting=Decimal(cutting)) for work in works])

    usual = estimate([make_scope()], make_books(), Changes(), Discount())
    cut = estimate([make_scope()], make_books(), Changes(), Discount(), plan)

    assert (cut.own.hours > usual.own.hours) == (Decimal(cutting) > 1)
    assert (cut.price.cost > usual.price.cost) == (Decimal(cutting) > 1)
