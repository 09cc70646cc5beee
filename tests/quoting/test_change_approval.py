"""The client's answer to a change order: what an approval changes, and what is refused."""

from datetime import date
from decimal import Decimal

import pytest
from django.core import mail

from labour.firm.models import AuditLine
from quoting.agree.models import Contract, PartKind
from quoting.agree.signing import Evidence, Signature
from quoting.change.models import Approval, ChangeOrder, ChangeStatus
from quoting.change.services import (
    CannotApproveChange,
    CannotDeclineChange,
    decline_change_order,
    mark_started,
    withdraw_change_order,
)
from quoting.documents.models import IssuedPaper, Letter
from quoting.engine.billing.amounts import Amounts
from quoting.engine.billing.ledger import CannotChangeContract
from tests.hall_bath import OPTION, ROOM
from tests.quoting.change_cast import credit, plain, rot
from tests.quoting.change_job import ANSWERED, FOUND, approve, evidence, make_job, raise_change, send_change

pytestmark = [pytest.mark.django_db, pytest.mark.slow]
RISE = Decimal("265.82")


@pytest.fixture
def contract() -> Contract:
    return make_job()[0]


def contract_sum(contract: Contract) -> Decimal:
    return sum((part.total for part in contract.parts.all()), Decimal(0))


def payments(contract: Contract) -> list[Decimal]:
    return list(contract.schedule.values_list("amount", flat=True))


def test_an_approved_change_is_a_part_of_the_contract(contract: Contract):
    change = approve(send_change(contract))

    part = contract.parts.get(kind=PartKind.CHANGE)
    assert (part.label, part.total) == ("J-0001-C1 Rot under the tub", RISE)
    assert part.items == [{"key": "J-0001-C1", "label": part.label, "amount": "265.82"}]
    assert Amounts.from_json(part.amounts).total == RISE
    assert contract_sum(contract) == contract.quote_total + RISE
    assert (change.status, change.decided_at) == (ChangeStatus.APPROVED, ANSWERED)


def test_the_payments_make_up_the_new_contract_sum(contract: Contract):
    before = payments(contract)

    approve(send_change(contract))

    after = payments(contract)
    assert sum(after) == contract.quote_total + RISE
    assert len(after) == len(before) and all(now > then for now, then in zip(after, before, strict=True))


def test_an_addition_leaves_the_unbilled_deposit_as_it_was_agreed(contract: Contract):
    first = contract.schedule.first()
    contract.schedule.filter(pk=first.pk).update(is_deposit=True)

    approve(send_change(contract))

    assert contract.schedule.get(pk=first.pk).amount == first.amount
    assert sum(payments(contract)) == contract.quote_total + RISE


def test_work_that_is_taken_back_is_not_planned_any_more(contract: Contract):
    codes = list(contract.job.tasks.values_list("code", flat=True))

    approve(send_change(contract, credit(f"{ROOM}/take-out-tub")))

    codes.remove("take-out-tub")
    assert list(contract.job.tasks.values_list("code", flat=True)) == codes


def test_an_option_taken_back_takes_its_planned_work_along():
    plain, with_option = make_job()[0], make_job("Harbor Lane Baths", OPTION)[0]
    base = plain.job.tasks.count()
    assert with_option.job.tasks.count() > base

    approve(send_change(with_option, credit(f"option:{OPTION}")))

    assert with_option.job.tasks.count() == base


def test_billed_payments_stay_as_they_are(contract: Contract):
    first = contract.schedule.first()
    contract.schedule.filter(pk=first.pk).update(is_billed=True)

    approve(send_change(contract))

    assert contract.schedule.get(pk=first.pk).amount == first.amount
    assert sum(payments(contract)) == contract.quote_total + RISE


def test_a_change_can_be_billed_apart(contract: Contract):
    before = payments(contract)

    approve(send_change(contract, billed_apart=True))

    assert payments(contract) == [*before, RISE]
    assert contract.schedule.last().name == "Change order J-0001-C1"


def test_its_work_is_planned_and_the_finish_moves_over_the_weekend(contract: Contract):
    planned = contract.job.tasks.count()

    approve(send_change(contract, rot("12")))

    tasks = contract.job.tasks.filter(source="J-0001-C1")
    assert [(task.code, task.room, task.quantity) for task in tasks] == [
        ("mend-subfloor", ROOM, Decimal("12.00")),
        ("clean", ROOM, Decimal("1.00")),
    ]
    assert tasks[0].hours == Decimal("2.40") and "out_of_plumb" in tasks[0].conditions
    assert contract.job.tasks.count() == planned + 2
    contract.job.refresh_from_db()
    assert contract.job.finish_on == date(2026, 12, 7)


def test_the_executed_copy_is_the_shown_paper_with_the_signature(contract: Contract):
    change = approve(send_change(contract))

    approval = Approval.objects.get(change=change)
    executed = approval.executed
    assert (executed.kind, executed.number) == ("executed-change", "J-0001-C1")
    assert {name: executed.context[name] for name in change.paper.context} == change.paper.context
    assert executed.context["executed"]["shown_sha256"] == change.paper.sha256 == approval.shown_sha256
    assert (approval.name, approval.signature, approval.address) == (
        "Ada Brook", {"typed": "Ada Brook"}, "192.0.2.7"
    )  # fmt: skip
    assert "change order J-0001-C1" in approval.wording


def test_both_sides_get_the_executed_copy(contract: Contract, django_capture_on_commit_callbacks):
    with django_capture_on_commit_callbacks(execute=True):
        change = approve(send_change(contract))

    letters = Letter.objects.of(contract.firm).filter(about="change order J-0001-C1")
    assert sorted(letter.to[0] for letter in letters) == ["ada@example.com", "office@example.com"]
    assert all(list(letter.papers.all()) == [change.approval.executed] for letter in letters)
    assert len(mail.outbox) == 2


def test_a_double_click_approves_once(contract: Contract):
    change = send_change(contract)

    first, again = approve(change, ticket="t-1"), approve(change, ticket="t-1")

    assert first == again
    assert contract.parts.filter(kind=PartKind.CHANGE).count() == 1


def test_approving_again_says_who_did_and_when(contract: Contract):
    change = approve(send_change(contract))

    with pytest.raises(CannotApproveChange, match="J-0001-C1 was approved by Ada Brook on November 16, 2026"):
        approve(change)


@pytest.mark.parametrize("ending", [decline_change_order, withdraw_change_order])
def test_what_was_declined_or_taken_back_is_not_approved(contract: Contract, ending):
    change = send_change(contract)
    ending(firm=contract.firm, change_id=change.pk, why="", at=FOUND, by=None)

    with pytest.raises(CannotApproveChange, match="Ask for a new change order"):
        approve(change)

    assert contract_sum(contract) == contract.quote_total


def test_a_draft_is_not_approved(contract: Contract):
    with pytest.raises(CannotApproveChange, match="was not sent yet"):
        approve(raise_change(contract))


def test_another_paper_than_the_one_shown_is_refused_and_nothing_is_kept(contract: Contract):
    change = send_change(contract)

    with pytest.raises(CannotApproveChange, match="not this change order"):
        approve(change, shown_sha256="0" * 64)

    change.refresh_from_db()
    assert (change.status, Approval.objects.exists()) == (ChangeStatus.SENT, False)
    assert not IssuedPaper.objects.filter(kind="executed-change").exists()


def test_the_day_of_signing_lies_not_ahead(contract: Contract):
    late = Evidence("Ada Brook", Signature(on_paper="Signed the print"), ANSWERED)

    with pytest.raises(CannotApproveChange, match="can not lie ahead"):
        approve(send_change(contract), evidence=late, at=FOUND)


def test_more_than_the_contract_can_not_be_taken_off(contract: Contract):
    change = send_change(contract, plain("-90000.00", "labour", "All of it"))

    with pytest.raises(CannotChangeContract):
        approve(change)

    assert contract_sum(contract) == contract.quote_total


def test_a_credit_lowers_contract_and_payments(contract: Contract):
    change = approve(send_change(contract, credit(f"{ROOM}/take-out-tub")))

    # 250.00 of labour, which is not taxed; see test_changing.py
    assert change.total == Decimal("-250.00")
    assert sum(payments(contract)) == contract_sum(contract) == contract.quote_total - Decimal("250.00")


def test_an_option_that_was_taken_leaves_no_cent_behind():
    contract, _ = make_job("Harbor Lane Baths", OPTION)
    option = contract.parts.get(kind=PartKind.OPTION)

    approve(send_change(contract, credit(f"option:{OPTION}")))

    assert contract_sum(contract) == contract.quote_total - option.total


def test_early_work_stays_flagged_after_approval(contract: Contract):
    change = send_change(contract)
    mark_started(firm=contract.firm, change_id=change.pk, at=FOUND, by=None)

    approved = approve(change)

    assert ChangeOrder.objects.get(pk=approved.pk).began_early


def test_a_declined_change_order_keeps_the_clients_words(contract: Contract):
    change = send_change(contract)

    decline_change_order(firm=contract.firm, change_id=change.pk, why=" Too dear. ", at=ANSWERED, by=None)

    change.refresh_from_db()
    assert (change.status, change.decided_why) == (ChangeStatus.DECLINED, "Too dear.")
    with pytest.raises(CannotDeclineChange, match="was declined on November 16, 2026"):
        decline_change_order(firm=contract.firm, change_id=change.pk, why="", at=ANSWERED, by=None)


def test_an_approval_is_noted_with_its_name_sum_and_hash(contract: Contract):
    change = approve(send_change(contract), evidence=evidence("Ada B. Brook"))

    note = AuditLine.objects.of(contract.firm).get(action="approved change order")

    assert note.detail == {
        "name": "Ada B. Brook", "total": "265.82", "shown_sha256": change.paper.sha256
    }  # fmt: skip
