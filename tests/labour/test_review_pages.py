"""Pages and routes of hours: every number leads to its entries; costs of single people are the owner's."""

import re
from decimal import Decimal

import pytest

from labour.firm.models import Membership, Role
from tests.labour.review_cast import log, plan_job, plan_task
from tests.makers import make_firm, make_member, make_worker

pytestmark = pytest.mark.django_db


@pytest.fixture
def firm():
    return make_firm()


@pytest.fixture
def job(firm):
    """A closed job with one entry of 11 h where 8 were planned."""
    job = plan_job(firm, low="4", high="10", hours="8", low50="6", high50="9")
    log(make_worker(firm, name="Sam <b> Okafor"), "11.00", (plan_task(job), "80"))
    return job


@pytest.fixture
def ask(client, firm):
    """Opens an address as someone of the firm and gives the words of the page."""

    def open_as(address, role=Role.OWNER, status=200):
        member = Membership.objects.of(firm).filter(role=role).first()
        client.force_login(member.user if member else make_member(firm, role))
        answer = client.get(address)
        assert answer.status_code == status, answer.content
        return answer.content.decode()

    return open_as


@pytest.mark.parametrize("by", ["task", "phase", "job", "worker", "role", "month"])
def test_every_figure_leads_to_entries_that_add_up_to_it(client, ask, job, by):
    page = ask(f"/hours/?by={by}")
    links = {link.replace("&amp;", "&") for link in re.findall(r'href="(/hours/entries/\?[^"#]+)', page)}

    assert "11\xa0h" in page
    assert links
    for link in links:
        assert "11\xa0h" in client.get(link).content.decode()


def test_a_chart_stands_on_the_page_with_its_words_escaped(ask, job):
    page = ask("/hours/?by=worker")

    assert '<svg xmlns="http://www.w3.org/2000/svg" class="chart"' in page
    assert "Sam &lt;b&gt; Okafor" in page and "<b> Okafor" not in page


def test_an_empty_firm_is_told_what_would_show_here(ask, firm):
    assert "Nothing to compare yet" in ask("/hours/")
    assert "Nothing to judge yet" in ask("/hours/kept/")
    assert "No hours fit" in ask("/hours/?task=grout")
    assert "Nothing fits" in ask("/hours/entries/")


@pytest.mark.parametrize(
    "asked", ["by=colour", "which=some", "job=x", "first=2026-13", "first=2026-11&last=2026-10"]
)
def test_a_question_that_makes_no_sense_is_refused_with_what_would(ask, job, asked):
    for address in ("/hours/", "/hours/entries/", "/hours/table.csv", "/hours/entries.csv"):
        assert 'class="error"' in ask(f"{address}?{asked}", status=422)


def test_a_job_of_another_firm_is_not_there(ask, firm):
    other = plan_job(make_firm("Other Baths"))

    ask(f"/hours/?job={other.pk}", status=404)


def test_only_the_owner_sees_what_single_people_cost(ask, job):
    assert "550.00" in ask("/hours/?by=worker", Role.OWNER)
    assert "550.00" in ask("/hours/?by=job", Role.OFFICE)
    for address in ("/hours/?by=worker", "/hours/?by=role", "/hours/entries/", "/hours/entries.csv"):
        assert "550.00" not in ask(address, Role.OFFICE)
    assert "550.00" not in ask("/hours/table.csv?by=worker", Role.OFFICE)


@pytest.mark.parametrize("address", ["/hours/", "/hours/entries/", "/hours/kept/", "/hours/table.csv"])
def test_the_crew_sees_none_of_it(ask, job, address):
    ask(address, Role.CREW, status=403)


def test_the_ranges_page_says_what_held_and_what_a_small_count_is_worth(ask, job):
    page = ask("/hours/kept/")

    assert "0 of 1" in page and "Too few to say anything yet." in page
    assert "outside" in page and page.count('class="chart"') == 2


def test_lists_are_files(ask, client, job):
    ask("/hours/table.csv")

    for address in ("table.csv", "entries.csv", "kept.csv"):
        answer = client.get(f"/hours/{address}")
        assert answer["Content-Type"] == "text/csv; charset=utf-8"
        assert "attachment" in answer["Content-Disposition"]


def test_routes_tell_what_the_pages_tell(ask, client, job):
    ask("/hours/")

    found = client.get("/api/hours?by=job").json()
    entries = client.get(f"/api/hours/entries?job={job.pk}").json()
    kept = client.get("/api/hours/kept").json()

    (row,) = found["rows"]
    assert (row["estimated"], row["actual"], row["over"], row["efficiency_hours"]) == ("8", "11", "3", "3")
    assert row["costs"]["actual_cost"] == "550.00"
    assert [entry["hours"] for entry in entries["entries"]] == ["11"]
    assert (kept["job_eight"]["inside"], kept["jobs"][0]["actual"]) == (0, "11")


def test_routes_keep_single_peoples_costs_from_the_office(ask, client, job):
    ask("/hours/", Role.OFFICE)

    assert client.get("/api/hours?by=worker").json()["rows"][0]["costs"] is None
    assert client.get("/api/hours/entries").json()["entries"][0]["cost"] is None


def test_routes_refuse_what_makes_no_sense(ask, client, job):
    ask("/hours/")

    for asked in ("by=colour", "first=2026-13", "first=2026-11&last=2026-10", "job=0"):
        assert client.get(f"/api/hours?{asked}").status_code == 422, asked


def test_a_year_of_jobs_shows_its_months(ask, firm):
    task = plan_task(plan_job(firm))
    worker = make_worker(firm)
    for month in range(1, 13):
        log(worker, "5.00", (task, "7"), on=f"2026-{month:02}-28", hour_cost=Decimal(40))

    page = ask("/hours/?by=month")

    assert "Month by month" in page and "2026-07" in page
