"""Pages, paper and routes of a job's costs and of its end."""

from io import BytesIO

import pytest
from django.test import Client as Browser
from pypdf import PdfReader

from labour.firm.models import Role, User
from quoting.agree.models import Contract
from quoting.closeout.models import JobCost
from quoting.closeout.paper import closeout_pdf
from tests.makers import make_firm, make_member
from tests.quoting.api_caller import caller_of, fields_of, make_caller
from tests.quoting.change_job import raise_change
from tests.quoting.closeout_cast import END, buy, close, make_worked_job, reread
from tests.reading import pdf_text

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


def browser(user: User) -> Browser:
    made = Browser()
    made.force_login(user)
    return made


def address(contract: Contract, part: str = "") -> str:
    return f"/jobs/{contract.job_id}/{part}"


def test_a_receipt_is_written_down_and_struck_on_the_page() -> None:
    contract, owner = make_worked_job()
    visitor = browser(owner)
    typed = {"on": "2026-11-02", "category": "material", "amount": "$1,128.40", "note": "Tile"}

    visitor.post(address(contract, "costs/"), typed)
    cost = JobCost.objects.get()
    visitor.post(address(contract, f"costs/{cost.pk}/strike/"))

    text = visitor.get(address(contract, "costs/")).content.decode()
    assert "<s>$1,128.40</s>" in text
    assert JobCost.objects.get().struck_by == owner


def test_a_wrong_receipt_says_so_beside_its_field() -> None:
    contract, owner = make_worked_job()

    answer = browser(owner).post(address(contract, "costs/"), {"on": "2026-11-02", "amount": "x"})

    assert answer.status_code == 422
    assert "is not an amount" in answer.content.decode()


def test_the_closing_page_shows_what_is_open_and_closes() -> None:
    contract, owner = make_worked_job()
    visitor, task = browser(owner), contract.job.tasks.get(code="tile-wall")

    shown = visitor.get(address(contract, "close/")).content.decode()
    sent = {f"done-{task.pk}": "60.5", "state-subfloor-rot": "found", "cost-subfloor-rot": "410"}
    answer = visitor.post(address(contract, "close/"), sent)

    assert "$4,397.84 of the contract sum is still to be billed." in shown
    assert answer.url == address(contract, "closeout/")
    task.refresh_from_db()
    assert str(task.done_quantity) == "60.50"
    assert reread(contract).findings.get().kind == "subfloor-rot"


def test_a_wrong_amount_is_shown_beside_its_task_and_nothing_is_closed() -> None:
    contract, owner = make_worked_job()
    task = contract.job.tasks.get(code="tile-wall")
    sent = {f"done-{task.pk}": "-3", "state-subfloor-rot": "sound", "cost-subfloor-rot": "410"}

    answer = browser(owner).post(address(contract, "close/"), sent)

    assert answer.status_code == 422
    assert "leave the cost empty" in answer.content.decode()
    assert reread(contract).closed_at is None


def test_a_job_with_a_waiting_change_has_no_button_to_close_it() -> None:
    contract, owner = make_worked_job()
    raise_change(contract)

    text = browser(owner).get(address(contract, "close/")).content.decode()

    assert "keeps the job open" in text
    assert '<button class="button">Close the job' not in text


def test_the_closeout_page_shows_figures_before_and_after_closing() -> None:
    contract, owner = make_worked_job()
    visitor = browser(owner)

    before = visitor.get(address(contract, "closeout/")).content.decode()
    close(contract)
    after = visitor.get(address(contract, "closeout/")).content.decode()

    assert "This job is open" in before
    assert "kept as they were then" in after
    assert "Tile the floor, Hall bath: 1.75 h more than estimated" in after
    assert "<svg" in after


def test_only_the_owner_opens_a_job_again_and_with_a_reason() -> None:
    contract, owner = make_worked_job()
    close(contract)
    office = make_member(contract.firm, Role.OFFICE, "office@example.com")

    assert browser(office).post(address(contract, "reopen/"), {"why": "Late"}).status_code == 403
    assert browser(owner).post(address(contract, "reopen/"), {"why": ""}).status_code == 422
    assert browser(owner).post(address(contract, "reopen/"), {"why": "Late"}).status_code == 302
    assert reread(contract).closed_at is None


@pytest.mark.parametrize("part", ["costs/", "close/", "closeout/", "closeout/closeout.pdf"])
def test_the_crew_sees_none_of_it_and_another_firm_finds_nothing(part) -> None:
    contract, _ = make_worked_job()
    crew = make_member(contract.firm, Role.CREW, "crew@example.com")
    stranger = make_other()

    assert browser(crew).get(address(contract, part)).status_code == 403
    assert browser(stranger).get(address(contract, part)).status_code == 404


def make_other() -> User:
    return make_member(make_firm("Other Mill"), Role.OWNER, "other@example.com")


@pytest.mark.parametrize(("paper", "width"), [("letter", 612), ("a4", 595)])
def test_the_paper_says_for_whom_it_is_and_what_was_earned(paper, width) -> None:
    contract, _ = make_worked_job()
    buy(contract, "409.32")
    figures = close(contract).figures
    figures["firm"]["paper"] = paper

    pdf = closeout_pdf(figures, END)

    text = " ".join(pdf_text(pdf).split())
    assert "FOR THE FIRM ONLY" in text
    assert "$2,363.85" in text  # 4328.65 − 1243.60 − 409.32 − 311.88
    assert "Tile the floor, Hall bath: 1.75 h more than estimated" in text
    assert pdf == closeout_pdf(figures, END)
    assert int(PdfReader(BytesIO(pdf)).pages[0].mediabox.width) == width


def test_programs_buy_close_read_and_reopen() -> None:
    contract, owner = make_worked_job()
    caller, job = caller_of(owner), f"/jobs/{contract.job_id}"
    cost = {"category": "material", "on": "2026-11-02", "amount": "-12.50", "ticket": "one"}

    made = caller.do("post", f"{job}/costs", cost)
    closing = caller.get(f"{job}/closing")
    closed = caller.do("post", f"{job}/close", {"findings": [{"kind": "weak-joists", "was_found": False}]})
    read = caller.get(f"{job}/closeout")
    caller.do("post", f"{job}/reopen", {"why": "Late receipt"})
    struck = caller.do("post", f"{job}/costs/{made['id']}/strike")

    assert made["amount"] == "-12.50"
    assert closing["open_matters"][0]["what"] == "to-bill"
    assert closed == read
    assert read["profit"]["actual"]["cost"] == "1231.10"  # 1243.60 − 12.50
    assert read["findings"] == [
        {"kind": "weak-joists", "name": "Undersized or cut joists", "was_found": False, "cost": None}
    ]
    assert struck["struck_at"]


def test_programs_are_refused_by_field_and_role() -> None:
    contract, owner = make_worked_job()
    job = f"/jobs/{contract.job_id}"
    cost = {"category": "labour", "on": "2026-11-02", "amount": "0"}

    problem = caller_of(owner).refused("post", f"{job}/costs", cost)

    assert fields_of(problem) == ["category", "amount"]
    assert make_caller(contract.firm, Role.CREW).send("get", f"{job}/closeout").status_code == 403
    assert (
        make_caller(contract.firm, Role.OFFICE).send("post", f"{job}/reopen", {"why": "x"}).status_code == 403
    )
