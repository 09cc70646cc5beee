"""Closed jobs teach rates: what is proposed, what is not used, and that nothing counts twice."""

from decimal import Decimal

import pytest

from labour.engine.hours import PlannedWork
from labour.firm.models import AuditLine
from labour.learn.deciding import (
    CannotDecide,
    leave_all_proposals,
    leave_proposal,
    take_all_proposals,
    take_proposal,
)
from labour.learn.models import ProposalStatus, RateProposal
from labour.learn.queries import find_learned, list_open_proposals, list_typed_since
from labour.learn.services import (
    learn_rates,
)
from labour.plan.queries import plan_labour
from labour.ratebook.services import change_task
from tests.labour.learn_cast import FLOOR, WALL, finish_job, finish_jobs, make_learning_firm, row_of
from tests.makers import AT, make_firm, make_member

pytestmark = pytest.mark.django_db
WORKS = [PlannedWork("floor", FLOOR, Decimal(30)), PlannedWork("wall", WALL, Decimal(30))]


def proposal_of(firm, code="tile-floor"):
    return next(one for one in list_open_proposals(firm) if one.task.code == code)


def rate_learned(firm, code="tile-floor"):
    return learn_rates(firm=firm, at=AT).rates[code]["now"]


def test_five_jobs_that_took_a_third_longer_propose_a_slower_rate():
    firm = make_learning_firm()

    finish_jobs(firm, 5, 1.3)

    # Jobs alone would say 10 ÷ 1.3 = 7.69; the book pulls a little towards 10.
    proposal = proposal_of(firm)
    assert 7.69 < proposal.rate_after < 8.1
    assert proposal.low < proposal.rate_after < proposal.high
    assert proposal.setup_after == pytest.approx(Decimal(10) / proposal.rate_after, abs=Decimal("0.01"))
    assert proposal.words.startswith("The book says 10 sq ft an hour; at your pace")
    assert "Your 5 jobs" in proposal.words


def test_jobs_that_went_by_the_book_propose_nothing():
    firm = make_learning_firm()

    finish_jobs(firm, 5, 1.0)

    assert list_open_proposals(firm) == []
    assert rate_learned(firm) == pytest.approx(10, rel=0.03)


def test_a_learned_rate_that_was_taken_does_not_move_again():
    firm = make_learning_firm()
    finish_jobs(firm, 5, 1.3)
    before = plan_labour(firm, WORKS)
    learned = rate_learned(firm)

    take_all_proposals(firm=firm, at=AT, by=None)

    assert rate_learned(firm) == learned
    assert list_open_proposals(firm) == []
    row = row_of(firm)
    assert (row.prior_rate, row.prior_setup_hours) == (10, 1)
    assert row.source == "learned from your 5 jobs"
    after = plan_labour(firm, [PlannedWork("floor", row.to_engine(), Decimal(30)), WORKS[1]])
    assert after.tasks[0].expected == before.tasks[0].expected
    assert float(after.tasks[0].hours) == pytest.approx(4 * 10 / learned, abs=0.01)


def test_taking_keeps_the_range_of_single_jobs_and_says_who_and_when():
    firm = make_learning_firm()
    finish_jobs(firm, 5, 1.3)
    owner, proposal = make_member(firm), proposal_of(firm)

    take_proposal(firm=firm, proposal_id=proposal.pk, at=AT, by=owner)

    row = row_of(firm)
    assert row.rate_low < proposal.low < row.rate < proposal.high < row.rate_high
    proposal.refresh_from_db()
    assert (proposal.status, proposal.decided_by, proposal.decided_at) == (ProposalStatus.TAKEN, owner, AT)
    assert AuditLine.objects.of(firm).get(action="take learned rate").detail["before"]["rate"] == "10"


def test_what_is_left_is_proposed_again_only_with_more_jobs():
    firm = make_learning_firm()
    finish_jobs(firm, 3, 1.3)
    leave_all_proposals(firm=firm, at=AT, by=None)

    learn_rates(firm=firm, at=AT)
    assert list_open_proposals(firm) == []

    finish_job(firm, 9, 1.3)
    learn_rates(firm=firm, at=AT)
    assert {one.figures["jobs"] for one in list_open_proposals(firm)} == {4}
    assert row_of(firm).rate == 10


def test_a_decision_is_made_once():
    firm = make_learning_firm()
    finish_jobs(firm, 3, 1.3)
    proposal = proposal_of(firm)
    leave_proposal(firm=firm, proposal_id=proposal.pk, at=AT, by=None)

    with pytest.raises(CannotDecide, match="left already"):
        take_proposal(firm=firm, proposal_id=proposal.pk, at=AT, by=None)


def test_a_rate_that_was_typed_meanwhile_is_not_overwritten():
    firm = make_learning_firm()
    finish_jobs(firm, 3, 1.3)
    change_task(firm=firm, code="tile-floor", changes={"rate": "9"}, by=None, at=AT)

    with pytest.raises(CannotDecide, match="changed to 9 since"):
        take_proposal(firm=firm, proposal_id=proposal_of(firm).pk, at=AT, by=None)

    assert [row.code for row in list_typed_since(firm, find_learned(firm))] == ["tile-floor"]
    learn_rates(firm=firm, at=AT)
    assert proposal_of(firm).rate_before == 9
    assert (
        RateProposal.objects.of(firm).filter(status=ProposalStatus.PASSED, task__code="tile-floor").count()
        == 1
    )


def test_another_firms_proposal_does_not_exist():
    firm = make_learning_firm()
    finish_jobs(firm, 3, 1.3)

    with pytest.raises(CannotDecide, match="no such proposal"):
        take_proposal(firm=make_firm("Other Baths"), proposal_id=proposal_of(firm).pk, at=AT, by=None)


def test_one_disaster_hardly_moves_the_next_quote():
    firm = make_learning_firm()
    finish_jobs(firm, 11, 1.0)
    calm = plan_labour(firm, WORKS).expected

    finish_job(firm, 12, 2.5)
    learn_rates(firm=firm, at=AT)

    assert plan_labour(firm, WORKS).expected == pytest.approx(calm, rel=Decimal("0.05"))
