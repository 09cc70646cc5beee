"""Pages and routes of learned rates: the owner decides, the office reads, another firm sees nothing."""

import json

import pytest
from django.test import Client as Browser
from django.urls import reverse

from labour.firm.models import Role
from labour.learn.queries import list_open_proposals
from labour.ratebook.queries import list_versions
from labour.ratebook.services import change_task
from tests.labour.learn_cast import finish_jobs, make_learning_firm, row_of
from tests.labour.review_cast import log, plan_job, plan_task
from tests.makers import AT, make_firm, make_member
from tests.rules.house import browser_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def firm():
    return make_learning_firm()


def in_firm(firm, role=Role.OWNER) -> Browser:
    return browser_of(make_member(firm, role))


def read(browser, address="learned", *args):
    return browser.get(reverse(address, args=args)).content.decode()


def call(browser, method, address):
    answer = getattr(browser, method)(f"/api{address}", content_type="application/json")
    return answer.status_code, json.loads(answer.content)


def test_a_firm_without_a_closed_job_is_told_that_the_rates_are_not_its_own(firm):
    page = read(in_firm(firm))

    assert "Book rates, not yours" in page
    assert "close your first job" in page


def test_the_page_shows_proposals_what_stands_behind_them_and_what_was_not_used(firm):
    log(None, "1.50", job=plan_job(firm, "J-0099"))
    finish_jobs(firm, 5, 1.3)

    page = read(in_firm(firm))

    assert "The book says 10 sq ft an hour; at your pace" in page
    assert "Learned from 5 closed jobs and 10 pieces of work" in page
    assert "Your firm on the whole" in page
    assert "more hours than the book" in page
    assert '<svg role="img"' in page or "<svg" in page
    assert "The entry names no task." in page
    assert "Take all 2" in page


def test_the_office_reads_and_the_owner_takes(firm):
    finish_jobs(firm, 5, 1.3)
    proposal = list_open_proposals(firm)[0]
    office, owner = in_firm(firm, Role.OFFICE), in_firm(firm)

    assert "The owner takes or leaves these" in read(office)
    assert "Take all" not in read(office)
    assert office.post(reverse("learned-take", args=[proposal.pk])).status_code == 403

    answer = owner.post(reverse("learned-take", args=[proposal.pk]), follow=True)
    assert "has its learned rate" in answer.content.decode()
    assert row_of(firm, proposal.task.code).rate == proposal.rate_after


def test_all_are_left_at_once(firm):
    finish_jobs(firm, 5, 1.3)

    page = in_firm(firm).post(reverse("learned-leave-all"), follow=True).content.decode()

    assert "Nothing waits" in page
    assert "10 to" in page
    assert row_of(firm).rate == 10


def test_a_proposal_that_was_decided_says_so(firm):
    finish_jobs(firm, 5, 1.3)
    proposal, owner = list_open_proposals(firm)[0], in_firm(firm)
    owner.post(reverse("learned-leave", args=[proposal.pk]))

    page = owner.post(reverse("learned-take", args=[proposal.pk]), follow=True).content.decode()

    assert "left already" in page


def test_a_rate_that_was_typed_since_is_named_and_learned_again(firm):
    finish_jobs(firm, 5, 1.3)
    change_task(firm=firm, code="tile-floor", changes={"rate": "9"}, by=None, at=AT)
    owner = in_firm(firm)
    assert "Typed since then" in read(owner)

    page = owner.post(reverse("learned-again"), follow=True).content.decode()

    assert "Typed since then" not in page
    assert "The book says 9 sq ft an hour" in page


def test_the_page_takes_the_same_few_queries_however_many_proposals(firm, django_assert_max_num_queries):
    finish_jobs(firm, 5, 1.3)
    owner = in_firm(firm)

    with django_assert_max_num_queries(11):
        read(owner)


def test_another_firms_proposal_is_not_there(firm):
    finish_jobs(firm, 5, 1.3)
    stranger, proposal = in_firm(make_firm("Other Baths")), list_open_proposals(firm)[0]

    assert stranger.post(reverse("learned-take", args=[proposal.pk])).status_code == 404
    assert "Set medium floor tile" not in read(stranger)
    assert call(stranger, "post", f"/rate-proposals/{proposal.pk}/take")[0] == 404


def test_programs_read_take_and_leave(firm):
    finish_jobs(firm, 5, 1.3)
    owner = in_firm(firm)

    _, learned = call(owner, "get", "/learned-rates")
    _, waiting = call(owner, "get", "/rate-proposals")
    assert (learned["jobs"], learned["logged"], len(waiting)) == (5, 10, 2)
    assert {rate["code"] for rate in learned["rates"]} == {"tile-floor", "tile-wall"}
    assert learned["on_the_whole"][0]["about"] == "Your pace"

    taken = call(owner, "post", f"/rate-proposals/{waiting[0]['id']}/take")
    left = call(owner, "post", f"/rate-proposals/{waiting[1]['id']}/leave")
    assert (taken[1]["status"], left[1]["status"]) == ("Taken", "Left")
    assert call(owner, "post", f"/rate-proposals/{waiting[1]['id']}/take")[0] == 422
    assert len(call(owner, "get", "/rate-proposals?decided=true")[1]) == 2
    assert call(owner, "post", "/rate-proposals/take-all")[1] == {"count": 0}


def test_a_firm_that_learned_nothing_has_an_empty_answer(firm):
    _, learned = call(in_firm(firm), "get", "/learned-rates")

    assert (learned["jobs"], learned["fitted_at"], learned["rates"]) == (0, None, [])


def test_a_task_shows_its_rates_and_puts_an_old_one_back(firm):
    change_task(firm=firm, code="tile-floor", changes={"rate": "12"}, by=None, at=AT)
    start = list_versions(row_of(firm))[-1]
    office = in_firm(firm, Role.OFFICE)

    page = read(office, "rate", "tile-floor")
    assert "Rates so far" in page
    assert "Put this rate back" in page

    answer = office.post(reverse("rate-put-back", args=["tile-floor", start.pk]), follow=True)
    assert "The rate is 10 an hour again" in answer.content.decode()
    again = office.post(reverse("rate-put-back", args=["tile-floor", start.pk]), follow=True)
    assert "is the rate that stands" in again.content.decode()


def test_the_crew_reads_the_rates_so_far_and_puts_none_back(firm):
    change_task(firm=firm, code="tile-floor", changes={"rate": "12"}, by=None, at=AT)
    start, crew = list_versions(row_of(firm))[-1], in_firm(firm, Role.CREW)

    page = read(crew, "rate", "tile-floor")
    assert "Rates so far" in page
    assert "Put this rate back" not in page
    assert crew.get(reverse("learned")).status_code == 403
    assert crew.post(reverse("rate-put-back", args=["tile-floor", start.pk])).status_code == 403


def test_programs_read_rates_and_put_one_back(firm):
    change_task(firm=firm, code="tile-floor", changes={"rate": "12"}, by=None, at=AT)
    owner = in_firm(firm)

    _, versions = call(owner, "get", "/rate-book/tile-floor/versions")
    assert [version["rates"]["rate"] for version in versions] == ["12", "10"]
    assert [version["is_current"] for version in versions] == [True, False]

    status, task = call(owner, "post", f"/rate-book/tile-floor/versions/{versions[1]['id']}/put-back")
    assert (status, task["rate"]) == (200, "10")
    assert call(owner, "post", "/rate-book/tile-floor/versions/999999/put-back")[0] == 404


def test_a_job_that_is_planned_but_not_closed_teaches_nothing(firm):
    job = plan_job(firm, closed=False)
    log(None, "9.00", plan_task(job, "tile-floor", "30"))

    finish_jobs(firm, 0, 1.0)

    assert "Book rates, not yours" in read(in_firm(firm))
