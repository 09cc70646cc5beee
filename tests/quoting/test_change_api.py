"""Change orders for programs: raised, sent, answered, settled; photos and findings from the site."""

from typing import Any

import pytest
from django.test import Client as Browser

from labour.firm.models import Role
from quoting.agree.models import Contract
from tests.quoting.api_caller import Caller, caller_of, fields_of, make_caller, problem_of
from tests.quoting.change_cast import plain
from tests.quoting.change_job_cast import FOUND, ROOM, make_job, photo_file, rot_line

pytestmark = [pytest.mark.django_db, pytest.mark.slow]

SIGNED_BY_HAND = {"name": "Ada Brook", "on_paper": "On the print"}
WRONG = [({"reason": "bored"}, "reason"), ({"days": -1}, "days"), ({"title": " "}, "title"),
         ({"colour": 1}, "colour")]  # fmt: skip


@pytest.fixture
def job() -> tuple[Contract, Caller]:
    """The hall bath's contract, and the owner's program."""
    contract, owner = make_job()
    return contract, caller_of(owner)


def body(*lines: dict[str, str], **changed: Any) -> dict[str, Any]:
    """A change order of rot on 12 sq ft, unless other lines are given."""
    asked = {"title": "Rot at the toilet", "reason": "rot", "finding": FOUND}
    return asked | {"lines": list(lines) or [rot_line()]} | changed


def send_photo(caller: Caller, address: str, **sent: Any) -> Any:
    """The answer to a photo sent as a multipart form."""
    browser = Browser(headers={"Authorization": f"Bearer {caller.token}"})
    return browser.post(f"/api{address}", sent)


def test_a_preview_says_the_price_and_keeps_nothing(job: tuple[Contract, Caller]) -> None:
    contract, owner = job

    figures = owner.do("post", f"/jobs/{contract.job_id}/changes/preview", body())["figures"]

    change = owner.do("post", f"/jobs/{contract.job_id}/changes", body())
    assert change["figures"]["client_view"]["lines"] == figures["client_view"]["lines"]
    assert change["total"] == figures["client_view"]["total"]
    assert [row["number"] for row in owner.get(f"/jobs/{contract.job_id}/changes")] == [change["number"]]


def test_a_change_goes_from_draft_to_the_contract(job: tuple[Contract, Caller]) -> None:
    contract, owner = job
    draft = owner.do("post", f"/jobs/{contract.job_id}/changes", body(ticket="one"))
    again = owner.do("post", f"/jobs/{contract.job_id}/changes", body(ticket="one"))
    address = f"/changes/{draft['id']}"

    edited = owner.do("put", address, body(rot_line("4 sq ft")))
    sent = owner.do("post", f"{address}/send")
    approved = owner.do(
        "post", f"{address}/approve-on-paper", {"name": "Ada Brook", "on_paper": "On the print"}
    )

    assert again["id"] == draft["id"] and float(edited["total"]) < float(draft["total"])
    assert "/change/" in sent["link"] and len(sent["paper_sha256"]) == 64
    assert (approved["status"], approved["approved_by"]) == ("approved", "Ada Brook")
    assert owner.refused("post", f"{address}/send")["type"] == "urn:screedbook:cannot-change-order"
    assert owner.refused("post", f"{address}/decline", {"why": ""})["type"].endswith("cannot-decline-change")


def test_every_line_that_can_not_be_is_named_by_its_place(job: tuple[Contract, Caller]) -> None:
    contract, owner = job
    lines = (rot_line("much"), plain(amount="ten"), {"kind": "wish"}, plain())

    problem = owner.refused("post", f"/jobs/{contract.job_id}/changes", body(*lines))

    assert fields_of(problem) == ["lines[0].area", "lines[1].amount", "lines[2].kind"]


@pytest.mark.parametrize(("changed", "field"), WRONG)
def test_a_wrong_field_is_named(job: tuple[Contract, Caller], changed: dict[str, Any], field: str) -> None:
    contract, owner = job

    problem = owner.refused("post", f"/jobs/{contract.job_id}/changes", body(**changed))

    assert fields_of(problem) == [field]


def test_a_ceiling_is_settled_by_a_credit(job: tuple[Contract, Caller]) -> None:
    contract, owner = job
    asked = body(plain(amount="500.00"), pricing="not-to-exceed")
    address = f"/changes/{owner.do('post', f'/jobs/{contract.job_id}/changes', asked)['id']}"
    owner.do("post", f"{address}/send")
    early = owner.refused("post", f"{address}/settle", {"actual": "380.00"})
    owner.do("post", f"{address}/approve-on-paper", SIGNED_BY_HAND)

    credit = owner.do("post", f"{address}/settle", {"actual": "380.00"})

    assert fields_of(early) == ["status"]
    # Labour without tax: 380.00 − 500.00.
    assert (credit["total"], credit["reason"], credit["status"]) == ("-120.00", "settled", "draft")


def test_what_is_offered_names_rooms_templates_prices_and_credits(
    job: tuple[Contract, Caller],
) -> None:
    contract, owner = job

    offers = owner.get(f"/jobs/{contract.job_id}/change-offers")

    assert offers["rooms"] == [ROOM]
    assert offers["templates"] == [
        {"slug": "rot", "name": "Rot under the floor", "reasons": ["rot"], "measures": ["area"]}
    ]
    assert [row["code"] for row in offers["unit_prices"]] == ["mend-subfloor"]
    assert "Floor tile of your choice" in [row["description"] for row in offers["allowances"]]
    assert all(float(row["amount"]) for row in offers["credits"])


def test_the_crew_sends_photos_and_findings_and_no_price_comes_back(job: tuple[Contract, Caller]) -> None:
    contract, owner = job
    crew = make_caller(contract.firm, Role.CREW)
    sent = send_photo(crew, f"/jobs/{contract.job_id}/photos", photo=photo_file(), caption="Soft floor")
    photo = sent.json()["id"]
    found = {"reason": "rot", "finding": FOUND, "room": ROOM, "template": "rot", "area": "9"}
    found |= {"photos": [photo], "ticket": "t"}

    answers = [crew.do("post", f"/jobs/{contract.job_id}/findings", found) for _ in range(2)]

    (change,) = owner.get(f"/jobs/{contract.job_id}/changes")
    assert answers[0] == answers[1]
    assert set(answers[0]) == {"number", "title", "reason", "finding"}
    assert owner.get(f"/changes/{change['id']}")["photos"] == [photo]
    assert crew.send("get", f"/changes/{change['id']}").status_code == 403
    assert crew.send("get", f"/photos/{photo}.jpg").headers["X-Content-Type-Options"] == "nosniff"


def test_a_file_that_is_no_photo_is_refused(job: tuple[Contract, Caller]) -> None:
    contract, owner = job
    address = f"/jobs/{contract.job_id}/photos"

    wrong = problem_of(send_photo(owner, address, photo=photo_file(content=b"%PDF-1.7")))
    none = problem_of(send_photo(owner, address, caption="Nothing"))

    assert "not a picture that is read here" in wrong["detail"]
    assert fields_of(none) == ["photo"]
    assert owner.get(address) == []


def test_another_firm_finds_nothing(job: tuple[Contract, Caller]) -> None:
    contract, owner = job
    change = owner.do("post", f"/jobs/{contract.job_id}/changes", body())
    other, stranger = make_job("Mill Baths")
    outsider = caller_of(stranger)

    statuses = {
        outsider.send("get", f"/changes/{change['id']}").status_code,
        outsider.send("put", f"/changes/{change['id']}", body()).status_code,
        outsider.send("post", f"/changes/{change['id']}/send").status_code,
        outsider.send("post", f"/jobs/{contract.job_id}/changes", body()).status_code,
    }

    assert statuses == {404}
    assert other.firm_id != contract.firm_id
