"""Jobs after an acceptance: what the crew sees of them, their days, and how their contracts are billed."""

from decimal import Decimal

import pytest
from django.test import Client as Browser

from labour.firm.models import Role, User
from quoting.agree.terms import CannotChangeTerms, change_contract_terms
from quoting.bill.services import issue_milestone_invoice
from quoting.offer.models import Quote
from tests.hall_bath import OPTION
from tests.makers import make_member
from tests.quoting.agree_cast import SIGNED, accept, send_offer
from tests.quoting.api_caller import Caller, caller_of, fields_of, make_caller

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def offered() -> tuple[Quote, User]:
    """The hall bath's offer, sent, and the owner."""
    return send_offer()


@pytest.fixture
def quote(offered: tuple[Quote, User]) -> Quote:
    """The hall bath's offer."""
    return offered[0]


@pytest.fixture
def owner(offered: tuple[Quote, User]) -> Browser:
    """The owner's browser."""
    browser = Browser()
    browser.force_login(offered[1])
    return browser


@pytest.fixture
def program(offered: tuple[Quote, User]) -> Caller:
    """The owner's program."""
    return caller_of(offered[1])


def test_how_a_job_is_billed_can_be_set_before_the_first_bill(owner, quote):
    contract = accept(quote)
    address = f"/jobs/{contract.job_id}/terms/"

    refused = owner.post(address, {"billing": "progress", "retainage_percent": "100"})
    kept = owner.post(address, {"billing": "progress", "retainage_percent": "7.5"})

    contract.refresh_from_db()
    assert (refused.status_code, "below 100" in refused.text) == (422, True)
    assert kept.status_code == 302
    assert (contract.billing, contract.retainage_percent) == ("progress", Decimal("7.50"))


def test_terms_that_can_not_be_are_refused_with_every_field(quote):
    contract = accept(quote)
    given = {"firm": quote.firm, "job_id": contract.job_id, "at": SIGNED, "by": None}

    with pytest.raises(CannotChangeTerms) as refused:
        change_contract_terms(billing="weekly", retainage_percent=Decimal("-1"), **given)

    assert [problem.field for problem in refused.value.problems] == ["billing", "retainage_percent"]


def test_how_a_job_is_billed_stays_once_it_was_billed(owner, quote):
    contract = accept(quote)
    given = {"firm": quote.firm, "job_id": contract.job_id, "at": SIGNED, "by": quote.created_by}
    issue_milestone_invoice(row_id=contract.schedule.first().pk, **given)

    with pytest.raises(CannotChangeTerms, match="J-0001 has been billed"):
        change_contract_terms(billing="progress", retainage_percent=Decimal(5), **given)

    page = owner.get(f"/jobs/{contract.job_id}/terms/")
    assert "It stays so" in page.text
    assert "<select" not in page.text


def test_the_crew_sees_the_job_and_its_tasks_and_no_price(quote):
    contract = accept(quote, OPTION)
    crew = Browser()
    crew.force_login(make_member(quote.firm, Role.CREW))

    page = crew.get(f"/jobs/{contract.job_id}/tasks/")

    assert contract.job.number in crew.get("/jobs/tasks/").text
    assert contract.job.tasks.first().name in page.text
    assert "Silica dust" in page.text
    assert [word for word in ("$", "4,397.84", "439.78") if word in page.text] == []
    assert crew.get(f"/quotes/{quote.pk}/client/").status_code == 403
    assert crew.get(f"/jobs/{contract.job_id}/terms/").status_code == 403


def test_programs_of_the_crew_read_jobs_and_the_office_sets_their_days(program, quote):
    contract = accept(quote)
    crew = make_caller(quote.firm, Role.CREW)
    address = f"/jobs/{contract.job_id}"
    days = {"starts_on": "2026-12-07", "finish_on": "2026-12-18"}

    set_days = program.do("put", f"{address}/days", days)
    job = crew.get(address)

    assert {name: set_days[name] for name in days} == days
    assert crew.get("/jobs")[0]["number"] == job["number"] == "J-0001"
    assert sum(Decimal(phase["hours"]) for phase in job["phases"]) == Decimal(job["hours"]) > 0
    assert crew.refused("put", f"{address}/days", days)["status"] == 403
    refused = program.refused(
        "put", f"{address}/days", {"starts_on": "2026-12-07", "finish_on": "2026-12-06"}
    )
    assert fields_of(refused) == ["finish_on"]


def test_jobs_of_another_firm_do_not_exist(program, quote):
    other = accept(send_offer("Mill Street Tile")[0])

    for rest in ("", "/contract"):
        assert program.refused("get", f"/jobs/{other.job_id}{rest}")["status"] == 404
    days = {"starts_on": None, "finish_on": None}
    assert program.refused("put", f"/jobs/{other.job_id}/days", days)["status"] == 404
