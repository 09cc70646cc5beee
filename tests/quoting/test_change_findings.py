"""What the crew reports: a draft with its extent and photos; all of it, or nothing."""

from decimal import Decimal
from typing import Any

import pytest

from labour.engine.refusal import Refusal
from quoting.agree.models import Contract, Photo
from quoting.change.models import ChangeOrder, Reason
from quoting.change.services import Finding, report_finding
from tests.hall_bath import ROOM
from tests.quoting.change_job import FOUND, make_job
from tests.quoting.test_photos import upload

pytestmark = pytest.mark.django_db


@pytest.fixture
def contract() -> Contract:
    return make_job()[0]


def report(contract: Contract, ticket: str = "", **found: Any) -> ChangeOrder:
    """12 sq ft of rot in the hall bath, unless something else was found."""
    usual: dict[str, Any] = {
        "reason": Reason.ROT, "finding": "Soft by the drain.", "room": ROOM, "template": "rot",
        "extent": {"area": "3' x 4'"},
    }  # fmt: skip
    finding = Finding(**usual | found)
    return report_finding(
        firm=contract.firm, job_id=contract.job_id, finding=finding, ticket=ticket, at=FOUND, by=None
    )


def problems_of(contract: Contract, **found: Any) -> list[str]:
    with pytest.raises(Refusal) as refused:
        report(contract, **found)
    return [problem.field for problem in refused.value.problems]


def test_a_finding_becomes_a_priced_draft(contract: Contract):
    change = report(contract)

    assert (change.status, change.title, change.reason) == ("draft", f"Rot under the floor, {ROOM}", "rot")
    # 264.36 and 250.00; see test_changing.py
    assert change.figures["client_view"]["subtotal"] == "514.36"


def test_photos_come_along(contract: Contract):
    change = report(contract, photos=[upload(), upload((20, 20))])

    assert change.photos.count() == 2


def test_a_bad_photo_keeps_nothing(contract: Contract):
    assert problems_of(contract, photos=[upload(), b"no picture"]) == ["photo"]

    assert not ChangeOrder.objects.exists() and not Photo.objects.exists()


def test_without_a_template_the_extent_stands_in_words(contract: Contract):
    change = report(contract, template="", extent={"length": "8'"})

    assert (change.lines, change.total) == ([], Decimal("0.00"))
    assert change.finding == "Soft by the drain.\nMeasured: length 8'."


def test_the_same_ticket_reports_once(contract: Contract):
    assert report(contract, ticket="t-1") == report(contract, ticket="t-1")

    assert ChangeOrder.objects.count() == 1


def test_what_is_missing_is_named(contract: Contract):
    assert problems_of(contract, reason="", finding=" ", room="Attic", template="gold") == [
        "reason", "finding", "room", "template"
    ]  # fmt: skip
    assert problems_of(contract, extent={}) == ["lines[0].area"]
