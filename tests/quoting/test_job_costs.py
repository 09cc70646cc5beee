"""What is bought for a job is written down and struck, and stays to be read."""

from datetime import timedelta
from decimal import Decimal

import pytest

from labour.firm.models import AuditLine
from quoting.closeout.models import JobCost
from quoting.closeout.services import CannotChangeCosts, CostWords, add_cost, strike_cost
from quoting.closeout.shown import costs_view
from tests.quoting.closeout_cast import END, buy, make_worked_job

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.mark.parametrize(
    ("field", "words"),
    [
        ("amount", {"amount": "0.00"}),
        ("amount", {"amount": "1.005"}),
        ("amount", {"amount": "NaN"}),
        ("category", {"category": "labour"}),
        ("on", {"on": (END + timedelta(days=2)).date()}),
        ("note", {"note": "x" * 201}),
    ],
)
def test_a_receipt_that_can_not_be_is_refused_by_its_field(field, words) -> None:
    contract, _ = make_worked_job()

    with pytest.raises(CannotChangeCosts) as refused:
        buy(contract, **words)

    assert [problem.field for problem in refused.value.problems] == [field]
    assert not JobCost.objects.exists()


def test_a_struck_cost_stays_to_be_read_and_does_not_count() -> None:
    contract, owner = make_worked_job()
    cost = buy(contract, "400.00")
    buy(contract, "9.32")

    strike_cost(firm=contract.firm, job_id=contract.job_id, cost_id=cost.pk, at=END, by=owner)

    view = costs_view(contract)
    assert len(view["costs"]) == 2
    material = next(row for row in view["categories"] if row["category"] == "material")
    assert (material["estimated"], material["actual"]) == (Decimal("409.32"), Decimal("9.32"))
    line = AuditLine.objects.of(contract.firm).get(action="strike job cost")
    assert (line.by, line.detail["amount"]) == (owner, "400.00")


def test_the_same_ticket_writes_one_receipt() -> None:
    contract, _ = make_worked_job()
    words = buy(contract)
    asked = {"firm": contract.firm, "job_id": contract.job_id, "at": END, "by": None, "ticket": "one"}

    cost = CostWords("material", words.on, Decimal("5.00"))
    first, second = add_cost(cost=cost, **asked), add_cost(cost=cost, **asked)

    assert first.pk == second.pk
