"""The office's and the crew's pages of change orders."""

import re
from decimal import Decimal
from typing import Any

import pytest
from django.test import Client as Browser

from labour.firm.models import Role
from quoting.agree.models import Contract, Photo
from quoting.change.models import ChangeLink, ChangeOrder
from quoting.documents.models import Letter
from tests.makers import make_member
from tests.quoting.change_cast import ROT
from tests.quoting.change_job_cast import (
    FOUND,
    ROOM,
    browser_for,
    make_job,
    photo_file,
    picture,
    raise_change,
    rot_line,
    send_change,
)

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def job() -> tuple[Contract, Browser]:
    """The hall bath's contract, and the owner's browser."""
    contract, owner = make_job()
    return contract, browser_for(owner)


def new_change(**changed: Any) -> dict[str, Any]:
    """What the form of a new change sends."""
    form = {"reason": "rot", "template": "auto", "room": ROOM, "area": "12 sq ft", "finding": FOUND}
    return form | {"pricing": "fixed", "ticket": "a-ticket"} | changed


def test_a_reason_and_an_extent_make_a_priced_draft_with_its_photos(job: tuple[Contract, Browser]) -> None:
    contract, browser = job

    answer = browser.post(
        f"/jobs/{contract.job_id}/changes/new/", new_change(photos=[photo_file()]), follow=True
    )

    change = ChangeOrder.objects.get()
    assert change.lines == [rot_line() | {"length": "", "count": ""}]
    assert change.title == f"{ROT.name}, {ROOM}"
    assert change.photos.count() == 1
    # Mending at 35.11 a sq ft as agreed, cleaning at today's price.
    text = answer.content.decode()
    assert f"agreed in {contract.acceptance.quote.number}" in text and "today&#x27;s rates" in text
    assert change.total > 0 and f"${change.total:,}" in text


def test_the_same_ticket_raises_it_once(job: tuple[Contract, Browser]) -> None:
    contract, browser = job
    address = f"/jobs/{contract.job_id}/changes/new/"

    places = [browser.post(address, new_change(photos=[photo_file()])).headers["Location"] for _ in range(2)]

    assert places[0] == places[1]
    assert (ChangeOrder.objects.count(), Photo.objects.count()) == (1, 1)


def test_the_one_room_is_chosen_already(job: tuple[Contract, Browser]) -> None:
    contract, browser = job

    text = browser.get(f"/jobs/{contract.job_id}/changes/new/").content.decode()

    assert f'<option value="{ROOM}">{ROOM}</option>' in text
    assert "Choose …" not in text
    assert re.search(rf'value="{ROT.slug}" data-reasons="rot" data-measures="area"', text)


@pytest.mark.parametrize(
    ("changed", "told"),
    [
        ({"reason": ""}, "This field is required"),
        ({"area": ""}, "Say how much was found"),
        ({"area": "a lot"}, "“a lot” is not an area"),
        ({"photos": [photo_file(content=b"MZ no picture")]}, "not a picture that is read here"),
        ({"photos": [photo_file(content=picture()[:200])]}, "damaged or cut off"),
    ],
)
def test_what_can_not_be_priced_is_refused_and_nothing_is_kept(
    job: tuple[Contract, Browser], changed: dict[str, Any], told: str
) -> None:
    contract, browser = job
    for upload in changed.get("photos", ()):
        upload.seek(0)

    answer = browser.post(f"/jobs/{contract.job_id}/changes/new/", new_change(**changed))

    assert answer.status_code == 422
    assert told in answer.content.decode()
    assert not ChangeOrder.objects.exists() and not Photo.objects.exists()


def test_a_photo_larger_than_15_megabytes_is_refused_by_name(job: tuple[Contract, Browser]) -> None:
    contract, browser = job
    huge = photo_file("huge.jpg", b"\xff" * (15 * 1024 * 1024 + 1))

    answer = browser.post(f"/jobs/{contract.job_id}/photos/", {"photos": [huge]})

    assert answer.status_code == 422
    assert "“huge.jpg” is larger than 15 MB" in answer.content.decode()
    assert not Photo.objects.exists()


def test_lines_are_added_and_taken_out_and_the_price_follows(job: tuple[Contract, Browser]) -> None:
    contract, browser = job
    change = raise_change(contract)
    before = change.total
    plain = {
        "plain-description": "Night work",
        "plain-category": "labour",
        "plain-amount": "85.00",
        "of": "1",
    }

    added = browser.post(f"/changes/{change.pk}/add-line/", plain)
    change.refresh_from_db()
    with_line = change.total
    dropped = browser.post(f"/changes/{change.pk}/drop-line/", {"place": "1", "of": "2"})

    change.refresh_from_db()
    assert (added.status_code, dropped.status_code) == (302, 302)
    # Labour carries no sales tax here.
    assert with_line == before + Decimal("85.00")
    assert change.total == before


def test_a_second_click_on_take_out_takes_no_other_line(job: tuple[Contract, Browser]) -> None:
    contract, browser = job
    change = raise_change(contract, rot_line(), rot_line("3 sq ft"), rot_line("5 sq ft"))
    click = {"place": "0", "of": "3"}

    statuses = [browser.post(f"/changes/{change.pk}/drop-line/", click).status_code for _ in range(2)]

    change.refresh_from_db()
    assert statuses == [302, 422]
    assert [line["area"] for line in change.lines] == ["3 sq ft", "5 sq ft"]


@pytest.mark.parametrize(
    ("address", "sent", "told"),
    [
        ("add-line", {"plain-description": "x", "plain-category": "labour", "plain-amount": "ten"}, "“ten”"),
        ("add-work", {"work-room": ROOM, "work-task": "no-such", "work-quantity": "1"}, "Task"),
        ("add-template", {"template": "rot", "room": ROOM, "area": "-3"}, "“-3”"),
        ("add-credit", {"key": "Hall bath/nothing"}, "holds nothing called"),
        ("settle-allowance", {"description": "Gold taps", "chosen": "5"}, "holds nothing called"),
        ("drop-line", {"place": "-1"}, "changed meanwhile"),
    ],
)
def test_a_line_that_can_not_be_is_refused_with_its_reason(
    job: tuple[Contract, Browser], address: str, sent: dict[str, str], told: str
) -> None:
    contract, browser = job
    change = raise_change(contract)

    answer = browser.post(f"/changes/{change.pk}/{address}/", sent)

    assert answer.status_code == 422
    assert told in answer.content.decode()
    change.refresh_from_db()
    assert change.lines == [rot_line()]


def test_sending_freezes_the_paper_makes_a_link_and_writes_to_the_client(
    job: tuple[Contract, Browser], django_capture_on_commit_callbacks: Any, mailoutbox: list[Any]
) -> None:
    contract, browser = job
    change = raise_change(contract)
    mailoutbox.clear()

    with django_capture_on_commit_callbacks(execute=True):
        answer = browser.post(f"/changes/{change.pk}/send/", follow=True)

    change.refresh_from_db()
    link = ChangeLink.objects.get()
    letter = Letter.objects.filter(about=f"change order {change.number}").get()
    assert change.status == "sent" and change.paper is not None
    assert letter.to == [contract.client.email] and letter.papers.get() == change.paper
    address = re.search(r"http://testserver/change/\S+/", letter.body)
    assert address and address[0] in answer.content.decode()
    assert [mail.to for mail in mailoutbox] == [[contract.client.email]]
    assert link.change == change


def test_a_sent_change_stays_as_it_is(job: tuple[Contract, Browser]) -> None:
    contract, browser = job
    change = raise_change(contract)
    send_change(change)

    answers = [
        browser.post(f"/changes/{change.pk}/drop-line/", {"place": "0", "of": "1"}),
        browser.post(f"/changes/{change.pk}/photos/", {"photos": [photo_file()]}),
    ]

    assert [answer.status_code for answer in answers] == [422, 422]
    assert all("stays as it is" in answer.content.decode() for answer in answers)
    assert not change.photos.exists()


def test_an_approval_on_paper_changes_the_contract_once(job: tuple[Contract, Browser]) -> None:
    contract, browser = job
    change = raise_change(contract)
    send_change(change)
    signed = {"name": "Ada Brook", "on_paper": "Signed on the print", "ticket": "t-1"}
    address = f"/changes/{change.pk}/approve/"

    first, again = browser.post(address, signed), browser.post(address, signed)
    other = browser.post(address, signed | {"ticket": "t-2"})

    assert (first.status_code, again.status_code, other.status_code) == (302, 302, 422)
    assert "was approved by Ada Brook" in other.content.decode()
    assert contract.parts.filter(kind="change").get().total == change.total


def test_work_that_begins_before_approval_is_flagged(job: tuple[Contract, Browser]) -> None:
    contract, browser = job
    change = raise_change(contract)
    send_change(change)

    page = browser.post(f"/changes/{change.pk}/start/", follow=True).content.decode()

    assert "Work began before approval" in page
    assert "Work began before approval" in browser.get(f"/jobs/{contract.job_id}/changes/").content.decode()


def test_a_ceiling_is_settled_by_a_credit_of_what_was_not_needed(job: tuple[Contract, Browser]) -> None:
    contract, browser = job
    line = {"kind": "plain", "description": "Chase the leak", "category": "labour", "amount": "500.00"}
    change = raise_change(contract, line, pricing="not-to-exceed")
    send_change(change)
    browser.post(f"/changes/{change.pk}/approve/", {"name": "Ada Brook", "on_paper": "On the print"})

    over = browser.post(f"/changes/{change.pk}/settle/", {"actual": "500.01"})
    done = browser.post(f"/changes/{change.pk}/settle/", {"actual": "380.00", "ticket": "s"}, follow=True)
    twice = browser.post(f"/changes/{change.pk}/settle/", {"actual": "300.00", "ticket": "s2"})

    credit = ChangeOrder.objects.get(reason="settled")
    # 500.00 agreed − 380.00 needed, labour without tax.
    assert credit.total == Decimal("-120.00")
    assert (over.status_code, done.status_code, twice.status_code) == (422, 200, 422)
    assert "less than the ceiling of 500.00" in over.content.decode()


def test_the_crew_reports_a_finding_with_photos_and_sees_no_price(job: tuple[Contract, Browser]) -> None:
    contract, _ = job
    crew = browser_for(make_member(contract.firm, Role.CREW, "crew@example.com"))
    address = f"/jobs/{contract.job_id}/findings/new/"
    found = {"reason": "rot", "template": "auto", "room": ROOM, "area": "9", "finding": FOUND, "ticket": "f"}

    form = crew.get(address).content.decode()
    places = [crew.post(address, found | {"photos": [photo_file()]}) for _ in range(2)]
    shown = crew.get(places[0].headers["Location"]).content.decode()

    change = ChangeOrder.objects.get()
    assert change.is_draft and change.photos.count() == 1 and change.total > 0
    assert crew.get(f"/changes/{change.pk}/").status_code == 403
    assert not re.search(r"[$€£]", form + shown) and str(change.total) not in shown


def test_photos_are_served_to_the_firm_alone_and_never_sniffed(job: tuple[Contract, Browser]) -> None:
    contract, browser = job
    browser.post(f"/jobs/{contract.job_id}/photos/", {"photos": [photo_file()], "caption": "Under the pan"})
    _, stranger = make_job("Mill Baths")
    address = f"/photos/{Photo.objects.get().pk}.jpg"

    own, other, nobody = (one.get(address) for one in (browser, browser_for(stranger), Browser()))

    assert own.headers["Content-Type"] == "image/jpeg" and own.content[:2] == b"\xff\xd8"
    assert own.headers["X-Content-Type-Options"] == "nosniff"
    assert (other.status_code, nobody.status_code) == (404, 302)
