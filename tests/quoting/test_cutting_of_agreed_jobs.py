"""A job made from an agreed quote knows how much cutting was priced; its crew may read it."""

from decimal import Decimal
from typing import Any

import pytest
from django.test import Client as Browser

from labour.firm.models import Role
from quoting.agree.models import Contract
from quoting.offer.models import Quote
from quoting.offer.risk_costs import read_costs
from tests.hall_firm import make_hall_firm, make_hall_quote
from tests.makers import make_member
from tests.quoting.api_caller import caller_of
from tests.quoting.change_cast import work
from tests.quoting.change_job import agree, approve, make_job, send_change

pytestmark = [pytest.mark.django_db, pytest.mark.slow]

CUT = {"cutting": "1.40", "cutting_why": {"formula": "Cuts by usual", "worked": "7 ÷ 5", "source": "layout"}}


def cut_the_floor(quote: Quote) -> Quote:
    """As if the layout of its floor had asked for that many cuts."""
    floor_of(quote)["hours"].update(CUT)
    quote.save()
    return quote


def floor_of(quote: Quote) -> dict[str, Any]:
    (floor,) = [line for line in quote.figures["firm_view"]["lines"] if line["code"] == "tile-floor"]
    return dict(floor)


@pytest.fixture
def cut() -> Contract:
    """The agreed hall bath whose floor was priced with many cuts."""
    firm, owner = make_hall_firm()
    return agree(cut_the_floor(make_hall_quote(firm, owner)), (), owner)


def test_each_task_has_the_cutting_of_its_line(cut: Contract) -> None:
    cutting = {task.code: task.cutting for task in cut.job.tasks.all()}

    assert cutting.pop("tile-floor") == Decimal("1.40")
    assert set(cutting.values()) == {1}


def test_what_is_stated_of_the_job_holds_its_cuts(cut: Contract) -> None:
    usual = make_job("Mill Street Tile")[0].job
    floor = usual.tasks.get(code="tile-floor")

    more = float(cut.job.stated_hours - usual.stated_hours)

    # 0.40 of the floor's time without set-up; a sum of wide ranges moves a little less or more.
    assert more == pytest.approx(0.40 * float(floor.hours - floor.setup_hours), rel=0.3)


def test_the_crew_reads_how_much_is_cut_and_no_price(cut: Contract) -> None:
    crew, member = Browser(), make_member(cut.firm, Role.CREW)
    crew.force_login(member)

    page = crew.get(f"/jobs/{cut.job_id}/tasks/").text
    told = caller_of(member).get(f"/jobs/{cut.job_id}")

    assert page.count("cuts: 1.4 × usual") == page.count("cuts:") == 1
    assert "$" not in page
    tasks = [task for phase in told["phases"] for task in phase["tasks"]]
    assert {task["code"]: task["cutting"] for task in tasks}["tile-floor"] == "1.4"


def test_the_office_reads_where_the_factor_is_from() -> None:
    firm, owner = make_hall_firm()
    quote = cut_the_floor(make_hall_quote(firm, owner))
    office = Browser()
    office.force_login(owner)

    place = [line["code"] for line in quote.figures["firm_view"]["lines"]].index("tile-floor")
    page = office.get(f"/quotes/{quote.pk}/lines/{place}/").text

    assert "Cuts: 1.4 × usual" in page
    assert "Cuts by usual: 7 ÷ 5" in page


def test_the_tasks_of_a_change_order_have_its_cutting() -> None:
    contract, _ = make_job()
    change = send_change(contract, work("tile-floor", "11"))
    change.figures["firm_view"]["lines"][0]["task"] |= CUT
    change.save()

    approve(change)

    added = contract.job.tasks.get(source=change.number)
    assert (added.code, added.cutting) == ("tile-floor", Decimal("1.40"))


def test_the_odds_of_a_price_stand_on_hours_with_cuts() -> None:
    firm, owner = make_hall_firm()
    quote = make_hall_quote(firm, owner)
    usual = read_costs(firm, quote.figures, Decimal(0)).costs.own
    cut = read_costs(firm, cut_the_floor(quote).figures, Decimal(0)).costs.own

    longer = {
        one.work.code: more.work.book_hours - one.work.book_hours
        for one, more in zip(usual, cut, strict=True)
        if more.work.book_hours != one.work.book_hours
    }
    # 11 sq ft an hour in a small room: quantity ÷ 11 × 1.1 × 0.40 more
    area = float(floor_of(quote)["quantity"])
    assert longer == {"tile-floor": pytest.approx(area / 11 * 1.1 * 0.40)}
