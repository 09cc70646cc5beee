"""Change orders from the finding to the sent paper: priced, kept, changed, sent, begun, taken back."""

from decimal import Decimal

import pytest
from django.http import Http404

from labour.engine.refusal import Refusal
from labour.firm.models import AuditLine
from labour.firm.once import BadTicket
from quoting.agree.models import Contract
from quoting.change.models import ChangeOrder, ChangeStatus, Pricing
from quoting.change.queries import (
    agreed_unit_prices,
    allowances,
    change_templates,
    creditable_lines,
    get_change,
    list_changes,
)
from quoting.change.services import (
    CannotChangeOrder,
    CannotSendChange,
    CannotStartChange,
    CannotWithdrawChange,
    decline_change_order,
    edit_change_order,
    mark_started,
    preview_change,
    raise_change_order,
    send_change_order,
    withdraw_change_order,
)
from quoting.price.models import PriceSettings
from tests.hall_bath import ROOM
from tests.makers import make_firm
from tests.quoting.change_cast import credit, plain, rot, work
from tests.quoting.change_job import ANSWERED, FOUND, approve, draft, make_job, raise_change, send_change

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def contract() -> Contract:
    return make_job()[0]


def test_a_change_order_is_priced_and_numbered_under_its_job(contract: Contract):
    first, second = raise_change(contract), raise_change(contract, rot("6"))

    assert (first.number, second.number, first.status) == ("J-0001-C1", "J-0001-C2", "draft")
    # 12 sq ft × 22.03 = 264.36 and 1.46 tax; 12 ÷ 5 h; see test_changing.py
    assert (first.total, first.hours, first.days) == (Decimal("265.82"), Decimal("2.40"), 1)
    assert list_changes(contract) == [first, second]


def test_its_figures_say_what_happens_to_the_contract(contract: Contract):
    view = raise_change(contract).figures["client_view"]

    assert Decimal(view["contract_before"]) == contract.quote_total
    assert Decimal(view["contract_after"]) == contract.quote_total + Decimal("265.82")
    # Friday and one working day
    assert (view["finish_before"], view["finish_after"]) == ("2026-12-04", "2026-12-07")


def test_the_client_view_holds_no_hours_costs_or_margin(contract: Contract):
    view = str(raise_change(contract, rot(), plain()).figures["client_view"])

    assert not [word for word in ("hours", "cost", "margin", "why") if f"'{word}" in view]


def test_a_time_and_material_change_says_its_ceiling(contract: Contract):
    view = raise_change(contract, pricing=Pricing.NOT_TO_EXCEED).figures["client_view"]

    assert view["not_to_exceed"] == "265.82"
    assert raise_change(contract).figures["client_view"]["not_to_exceed"] == ""


def test_a_preview_keeps_nothing_and_says_the_same(contract: Contract):
    figures = preview_change(contract.firm, contract.job_id, draft())

    assert not ChangeOrder.objects.exists()
    assert figures == raise_change(contract).figures


def test_the_same_ticket_raises_one_change_order(contract: Contract):
    first, again = raise_change(contract, ticket="t-1"), raise_change(contract, ticket="t-1")

    assert first == again
    assert ChangeOrder.objects.count() == 1


def test_a_ticket_of_something_else_is_refused(contract: Contract):
    change = send_change(contract)
    raise_change(contract, ticket="t-2")

    with pytest.raises(BadTicket):
        approve(change, ticket="t-2")


def test_every_field_that_can_not_be_used_is_named_and_nothing_is_kept(contract: Contract):
    wrong = draft(title=" ", reason="ghosts", pricing="free", days=-1)

    with pytest.raises(Refusal) as refused:
        raise_change_order(
            firm=contract.firm, job_id=contract.job_id, draft=wrong, ticket="t", at=FOUND, by=None
        )

    assert [problem.field for problem in refused.value.problems] == ["title", "reason", "pricing", "days"]
    assert not ChangeOrder.objects.exists()


def test_another_firm_finds_neither_the_job_nor_the_change_order(contract: Contract):
    change, stranger = raise_change(contract), make_firm("Other")

    with pytest.raises(Http404):
        get_change(stranger, change.pk)
    with pytest.raises(Http404):
        preview_change(stranger, contract.job_id, draft())
    with pytest.raises(Http404):
        send_change_order(firm=stranger, change_id=change.pk, at=FOUND, by=None)


def test_a_draft_is_changed_and_priced_again(contract: Contract):
    change = raise_change(contract)

    edit_change_order(
        firm=contract.firm, change_id=change.pk, draft=draft(rot("6"), days=4), at=FOUND, by=None
    )

    change.refresh_from_db()
    # 6 × 22.03 = 132.18 and cleaning at 250.00
    assert (change.figures["client_view"]["subtotal"], change.days) == ("382.18", 4)


def test_a_sent_change_order_stays_as_it_is(contract: Contract):
    change = send_change(contract)

    with pytest.raises(CannotChangeOrder, match="J-0001-C1 is sent"):
        edit_change_order(firm=contract.firm, change_id=change.pk, draft=draft(), at=FOUND, by=None)
    assert (change.paper.kind, change.paper.number) == ("change-order", "J-0001-C1")
    assert change.paper.pdf.startswith(b"%PDF")


def test_sending_twice_is_refused(contract: Contract):
    change = send_change(contract)

    with pytest.raises(CannotChangeOrder):
        send_change_order(firm=contract.firm, change_id=change.pk, at=FOUND, by=None)


def test_what_says_nothing_is_not_sent(contract: Contract):
    empty = raise_change_order(
        firm=contract.firm,
        job_id=contract.job_id,
        draft=draft(finding="", lines=[]),
        ticket="",
        at=FOUND,
        by=None,
    )

    with pytest.raises(CannotSendChange) as refused:
        send_change_order(firm=contract.firm, change_id=empty.pk, at=FOUND, by=None)

    assert [problem.field for problem in refused.value.problems] == ["lines", "finding"]


def test_days_alone_are_a_change_order(contract: Contract):
    change = raise_change_order(
        firm=contract.firm,
        job_id=contract.job_id,
        draft=draft(lines=[], days=3),
        ticket="",
        at=FOUND,
        by=None,
    )

    sent = send_change_order(firm=contract.firm, change_id=change.pk, at=FOUND, by=None)

    assert (sent.total, sent.figures["client_view"]["finish_after"]) == (Decimal("0.00"), "2026-12-09")


def test_a_crew_of_another_size_takes_other_days(contract: Contract):
    PriceSettings.objects.of(contract.firm).update(crew_size=1, day_hours=Decimal(1))

    # 2.40 h ÷ (1 × 1 h)
    assert raise_change(contract).days == 3


def test_a_slip_that_would_take_years_is_refused(contract: Contract):
    with pytest.raises(Refusal, match="working days; look for a slip"):
        raise_change(contract, work(quantity="90000"))

    assert not ChangeOrder.objects.exists()


def test_work_is_begun_once_and_flagged_when_early(contract: Contract):
    change = send_change(contract)

    begun = mark_started(firm=contract.firm, change_id=change.pk, at=FOUND, by=None)

    assert begun.began_early
    with pytest.raises(CannotStartChange, match="began on 2026-11-15"):
        mark_started(firm=contract.firm, change_id=change.pk, at=ANSWERED, by=None)


def test_work_that_was_declined_is_not_begun(contract: Contract):
    change = send_change(contract)
    decline_change_order(firm=contract.firm, change_id=change.pk, why="Too dear.", at=ANSWERED, by=None)

    with pytest.raises(CannotStartChange, match="declined"):
        mark_started(firm=contract.firm, change_id=change.pk, at=ANSWERED, by=None)


def test_a_change_order_is_taken_back_once(contract: Contract):
    change = send_change(contract)

    withdraw_change_order(firm=contract.firm, change_id=change.pk, why="Found dry.", at=ANSWERED, by=None)

    change.refresh_from_db()
    assert (change.status, change.decided_why) == (ChangeStatus.WITHDRAWN, "Found dry.")
    with pytest.raises(CannotWithdrawChange, match="is withdrawn"):
        withdraw_change_order(firm=contract.firm, change_id=change.pk, why="", at=ANSWERED, by=None)


def test_each_step_is_noted(contract: Contract):
    change = send_change(contract)
    mark_started(firm=contract.firm, change_id=change.pk, at=FOUND, by=None)
    withdraw_change_order(firm=contract.firm, change_id=change.pk, why="", at=ANSWERED, by=None)

    notes = AuditLine.objects.of(contract.firm).filter(subject=change.number).order_by("id")

    assert [note.action for note in notes] == [
        "raised change order", "sent change order", "began change order", "withdrew change order"
    ]  # fmt: skip


def test_what_the_contract_settles_can_be_chosen(contract: Contract):
    assert [(unit.code, str(unit.price), unit.unit) for unit in agreed_unit_prices(contract)] == [
        ("mend-subfloor", "22.03", "sq ft")
    ]
    assert "Floor tile of your choice" in [one.description for one in allowances(contract)]
    assert [template.slug for template in change_templates(contract.firm)] == ["rot"]


def test_a_line_that_a_sent_change_order_takes_back_is_no_longer_offered(contract: Contract):
    key = f"{ROOM}/take-out-tub"
    offered = [line.key for line in creditable_lines(contract)]
    change = send_change(contract, credit(key))

    assert key in offered and key not in [line.key for line in creditable_lines(contract)]
    with pytest.raises(Refusal, match="taken back or settled already"):
        raise_change(contract, credit(key))
    withdraw_change_order(firm=contract.firm, change_id=change.pk, why="", at=ANSWERED, by=None)
    assert raise_change(contract, credit(key)).total < 0


def test_two_drafts_that_take_back_one_line_are_not_both_sent(contract: Contract):
    one, other = (raise_change(contract, credit(f"{ROOM}/take-out-tub")) for _ in range(2))
    send_change_order(firm=contract.firm, change_id=one.pk, at=FOUND, by=None)

    with pytest.raises(CannotSendChange, match="taken back"):
        send_change_order(firm=contract.firm, change_id=other.pk, at=FOUND, by=None)
