"""Pages and routes of the daily log: forms keep what was typed, and the crew sees no wage or cost."""

import json
from datetime import timedelta
from typing import Any

import pytest
from django.test import Client as Browser
from django.utils import timezone

from labour.firm.models import Worker
from labour.work.models import PlannedTask, WorkEntry
from tests.labour.log_cast import LogCast, make_cast
from tests.log_makers import make_entry, make_job, make_planned
from tests.makers import make_firm, make_member

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def cast() -> LogCast:
    return make_cast()


def browser_of(user: Any) -> Browser:
    browser = Browser()
    browser.force_login(user)
    return browser


def typed(cast: LogCast, **more: str) -> dict[str, str]:
    """What the form of a mixed day sends."""
    ticks = {f"task-{cast.toilets.pk}": "on", f"quantity-{cast.toilets.pk}": "3"}
    ticks |= {f"task-{cast.flanges.pk}": "on", f"percent-{cast.flanges.pk}": "50"}
    return ticks | {"on": str(timezone.localdate()), "worker": str(cast.sam.pk), "hours": "7:30"} | more


def test_the_crew_logs_a_mixed_day_and_sees_it(cast: LogCast) -> None:
    address = f"/jobs/{cast.job.pk}/log/"

    text = (
        browser_of(cast.crew)
        .post(address, typed(cast, ticket="t"), follow=True)
        .content.decode()
        .replace("\xa0", " ")
    )

    entry = WorkEntry.objects.get()
    assert (entry.hours, entry.parts.count(), entry.worker) == (7.5, 2, cast.sam)
    assert "Sam Okafor</b>, 7.5 h" in text and "3 done" in text and "50 % so far" in text


def test_a_refusal_keeps_what_was_typed_and_stands_beside_its_field(cast: LogCast) -> None:
    sent = typed(cast, hours="25", note="Long one", ticket="kept") | {f"quantity-{cast.toilets.pk}": "-1"}

    answer = browser_of(cast.crew).post(f"/jobs/{cast.job.pk}/log/", sent)

    form = answer.context["form"]
    assert (answer.status_code, WorkEntry.objects.count()) == (422, 0)
    assert set(form.errors) == {"hours", f"quantity-{cast.toilets.pk}"}
    text = text_of(answer)
    assert all(kept in text for kept in ('value="25"', "Long one", 'value="kept"'))
    assert f'id="id_quantity-{cast.toilets.pk}_error"' in text


def test_a_long_day_is_asked_about_with_a_box_to_tick(cast: LogCast) -> None:
    browser, address = browser_of(cast.crew), f"/jobs/{cast.job.pk}/log/"

    asked = browser.post(address, typed(cast, hours="13"))
    browser.post(address, typed(cast, hours="13", sure="on"))

    assert asked.status_code == 422 and "Yes, that is right" in asked.content.decode()
    assert "Yes, that is right" not in browser.get(address).content.decode()
    assert WorkEntry.objects.get().hours == 13


def test_yesterday_is_done_again_with_one_tap(cast: LogCast) -> None:
    yesterday = timezone.localdate() - timedelta(days=1)
    old = make_entry(cast.job, cast.sam, "8", [cast.toilets], yesterday)
    browser, address = browser_of(cast.crew), f"/jobs/{cast.job.pk}/log/"

    offered = text_of(browser.get(address))
    for _ in range(2):
        browser.post(f"{address}{old.pk}/again/", {"ticket": "tap"})

    assert "Same as" in offered
    made = WorkEntry.objects.exclude(pk=old.pk).get()
    assert (made.on, made.hours) == (timezone.localdate(), 8)


def test_the_same_again_that_is_asked_about_comes_back_as_a_form(cast: LogCast) -> None:
    yesterday = timezone.localdate() - timedelta(days=1)
    old = make_entry(cast.job, cast.sam, "13", [cast.toilets], yesterday)

    answer = browser_of(cast.crew).post(f"/jobs/{cast.job.pk}/log/{old.pk}/again/")

    assert answer.status_code == 422
    text = text_of(answer)
    assert "makes 13 hours" in text and "Yes, that is right" in text and 'value="13"' in text


def test_a_correction_shows_what_it_was_and_why(cast: LogCast) -> None:
    old = make_entry(cast.job, cast.sam, "8", [cast.toilets], timezone.localdate())
    browser, address = browser_of(cast.crew), f"/jobs/{cast.job.pk}/log/"

    text = (
        browser.post(f"{address}{old.pk}/", typed(cast, why="Left early"), follow=True)
        .content.decode()
        .replace("\xa0", " ")
    )

    assert "What it was before" in text and "Left early" in text
    days = text_of(browser.get(address))
    assert "<s><b>Sam Okafor</b>, 8 h" in days and "Corrected" in days


def test_striking_asks_for_a_reason(cast: LogCast) -> None:
    old = make_entry(cast.job, cast.sam, "8", [cast.toilets], timezone.localdate())
    browser, address = browser_of(cast.crew), f"/jobs/{cast.job.pk}/log/{old.pk}/strike/"

    refused = text_of(browser.post(address, {"why": " "}, follow=True))
    struck = text_of(browser.post(address, {"why": "Wrong job"}, follow=True))

    assert "Write why" in refused
    assert "Wrong job" in struck and WorkEntry.objects.get().struck_why == "Wrong job"


def test_work_that_came_up_can_be_ticked(cast: LogCast) -> None:
    browser, address = browser_of(cast.crew), f"/jobs/{cast.job.pk}/log/more/"
    sent = {"code": "set-toilet", "room": "Attic bath", "quantity": "2"}

    text = text_of(browser.post(address, sent, follow=True))

    assert PlannedTask.objects.get(source="log").room == "Attic bath"
    assert "Attic bath" in text


def test_my_week_adds_up_by_day_and_job(cast: LogCast) -> None:
    today = timezone.localdate()
    other = make_job(cast.firm, "J-0002", "Attic bath")
    make_entry(cast.job, cast.sam, "5", [cast.toilets], today)
    make_entry(other, cast.sam, "2.5", on=today)
    make_entry(cast.job, cast.eve, "8", on=today)

    text = text_of(browser_of(cast.crew).get("/log/"))

    assert ": 7.5 h, Sam Okafor" in text
    assert "J-0001 Hall bath</a> 5 h" in text and "J-0002 Attic bath</a> 2.5 h" in text


def test_the_tasks_page_tells_what_is_logged_of_each(cast: LogCast) -> None:
    make_entry(cast.job, cast.sam, "5", {cast.toilets: "4"})
    make_entry(cast.job, cast.sam, "2", [cast.toilets, cast.flanges])

    rows = browser_of(cast.crew).get(f"/jobs/{cast.job.pk}/tasks/").context["phases"][0]["tasks"]

    assert [(row["logged_alone"], row["logged_together"], row["done"]) for row in rows] == [
        (5, 2, 4),
        (0, 2, None),
    ]


def test_the_crew_never_sees_a_wage_or_the_cost_of_an_hour(cast: LogCast) -> None:
    entry = make_entry(cast.job, cast.sam, "8", [cast.toilets], timezone.localdate())
    browser, job = browser_of(cast.crew), cast.job.pk

    pages = ("/log/", f"/jobs/{job}/log/", f"/jobs/{job}/log/{entry.pk}/", f"/jobs/{job}/log/more/")
    routes = (f"/api/jobs/{job}/log", "/api/log/week", f"/api/jobs/{job}")
    texts = {address: browser.get(address).content.decode() for address in (*pages, *routes)}

    hidden = ("31.17", "38.18", "hour_cost", "wage")
    assert {address for address, text in texts.items() for word in hidden if word in text} == set()
    assert all("Hall bath" in text for text in texts.values())


def test_the_log_of_another_firm_does_not_exist(cast: LogCast) -> None:
    entry = make_entry(cast.job, cast.sam, "8", [cast.toilets])
    theirs = browser_of(make_member(make_firm("Mill Street")))
    mine = make_entry(make_job(cast.firm, "J-0002"), cast.sam)

    for end in ("", "more/", f"{entry.pk}/"):
        assert theirs.get(f"/jobs/{cast.job.pk}/log/{end}").status_code == 404
    assert browser_of(cast.owner).get(f"/jobs/{cast.job.pk}/log/{mine.pk}/").status_code == 404


def test_programs_log_correct_strike_and_plan_more(cast: LogCast) -> None:
    browser, today = browser_of(cast.crew), str(timezone.localdate())
    entry: dict[str, Any] = {
        "on": today,
        "hours": "13",
        "parts": [{"task": cast.toilets.pk, "quantity": "3"}],
    }

    asked = send(browser, "post", f"/jobs/{cast.job.pk}/log", entry, 422)
    made = send(browser, "post", f"/jobs/{cast.job.pk}/log", entry | {"sure": True, "ticket": "p-1"}, 201)
    late = send(browser, "post", f"/jobs/{cast.job.pk}/log", entry | {"sure": True, "ticket": "p-1"}, 201)
    clocked = entry | {"hours": "7.5", "starts": "07:30", "ends": "15:30", "why": "Slip"}
    mended = send(browser, "put", f"/log/{made['id']}", clocked, 200)
    struck = send(browser, "post", f"/log/{mended['id']}/strike", {"why": "Wrong job"}, 200)
    more = {"room": "Hall bath", "code": "set-toilet", "quantity": "1"}
    added = send(browser, "post", f"/jobs/{cast.job.pk}/log/tasks", more, 201)

    assert "hours" in str(asked)
    assert (late["id"], made["worker"], made["hours"]) == (made["id"], "Sam Okafor", "13")
    assert (mended["replaces_id"], mended["starts"]) == (made["id"], "07:30:00")
    assert (struck["struck_why"], added["source"]) == ("Wrong job", "log")
    listed = browser.get(f"/api/jobs/{cast.job.pk}/log").json()
    assert [row["struck_why"] for row in listed] == ["Slip", "Wrong job"]


def test_a_worker_is_tied_to_one_log_in(cast: LogCast) -> None:
    browser, member = browser_of(cast.owner), cast.sam.member_id

    refused = browser.post(f"/firm/workers/{cast.eve.pk}/log-in/", {"member": member}, follow=True)
    browser.post(f"/firm/workers/{cast.sam.pk}/log-in/", {"member": ""})
    browser.post(f"/firm/workers/{cast.eve.pk}/log-in/", {"member": member})

    assert "This log-in is Sam Okafor" in refused.content.decode()
    assert [row.member_id for row in Worker.objects.order_by("name")] == [member, None]


def test_a_log_in_of_another_firm_can_not_be_tied(cast: LogCast) -> None:
    stranger = make_member(make_firm("Mill Street")).membership
    address = f"/api/workers/{cast.eve.pk}/log-in"

    send(browser_of(cast.owner), "put", address.removeprefix("/api"), {"person": stranger.pk}, 422)

    assert Worker.objects.get(pk=cast.eve.pk).member is None


def test_a_job_without_tasks_and_without_entries_has_a_log(cast: LogCast) -> None:
    bare = make_job(cast.firm, "J-0003")
    make_planned(bare, is_withdrawn=True)

    text = text_of(browser_of(cast.crew).get(f"/jobs/{bare.pk}/log/"))

    assert "No tasks are planned" in text and "Nothing is written down yet" in text


def text_of(answer: Any) -> str:
    """The page as text, without hard spaces."""
    text: str = answer.content.decode()
    return text.replace("\xa0", " ")


def send(browser: Browser, method: str, address: str, body: dict[str, Any], status: int) -> dict[str, Any]:
    """The answer of a route, with the status that it should have."""
    answer = getattr(browser, method)(f"/api{address}", json.dumps(body), content_type="application/json")
    assert answer.status_code == status, answer.content
    found: dict[str, Any] = answer.json() if answer.content else {}
    return found
