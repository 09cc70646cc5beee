"""The pages of a job's bills: every bill is shown before it is issued, and nothing happens twice."""

from decimal import Decimal

import pytest
from django.test import Client as Browser
from django.urls import reverse

from labour.firm.models import Firm, Role
from quoting.agree.models import Billing, Contract
from quoting.bill.models import Invoice
from quoting.bill.queries import get_account
from quoting.price.models import PriceSettings
from tests.job_makers import add_part, make_amounts, make_contract
from tests.makers import make_firm, make_member
from tests.quoting.bill_browsing import bill, milestone_address, schedule_form
from tests.reading import page_rows, page_text

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def firm() -> Firm:
    return make_firm()


@pytest.fixture
def browser(firm: Firm) -> Browser:
    browser = Browser()
    browser.force_login(make_member(firm, Role.OFFICE))
    return browser


@pytest.fixture
def contract(firm: Firm) -> Contract:
    return make_contract(firm, "1000.00", "300.00", retainage="10")


def test_the_account_of_a_job_says_how_it_adds_up(browser: Browser, contract: Contract) -> None:
    bill(browser, contract)

    text = page_text(browser.get(reverse("job-bills", args=[contract.job_id])))

    assert "contract sum − billed + credited: $1,000.00 − $200.00 + $0.00 = $800.00" in text
    assert "billed − credited − held back − paid: $200.00 − $0.00 − $0.00 − $0.00 = $200.00" in text


def test_the_payments_say_which_are_billed(browser: Browser, contract: Contract) -> None:
    bill(browser, contract)

    rows = page_rows(browser.get(reverse("job-bills", args=[contract.job_id])))

    assert "Deposit deposit Billed 200" in rows
    assert "Tile set To come 500 Bill it : Tile set" in rows
    assert any(row.startswith("All payments 1000") for row in rows)


def test_a_bill_is_shown_to_the_cent_before_it_is_issued(browser: Browser, contract: Contract) -> None:
    page = browser.get(milestone_address(contract, 2))

    shown = page.context["preview"]
    assert "Nothing is issued yet" in page_text(page)
    assert Invoice.objects.count() == 0
    invoice = bill(browser, contract, 2)
    assert (invoice.total, invoice.retained) == (Decimal("500.00"), Decimal("50.00"))
    assert invoice.amounts == shown.bill.amounts.to_json()
    assert invoice.due_on == shown.due_on
    assert get_account(contract) == shown.account


def test_nothing_is_held_back_of_a_deposit(browser: Browser, contract: Contract) -> None:
    invoice = bill(browser, contract)

    assert (invoice.kind, invoice.retained) == ("deposit", Decimal("0.00"))


def test_a_double_click_bills_once(browser: Browser, contract: Contract) -> None:
    invoice = bill(browser, contract)
    form = {"issue": "ticket-1", "shown": "200.00/0.00"}

    again = browser.post(milestone_address(contract), form)

    assert again.headers["Location"] == reverse("invoice", args=[invoice.pk])
    assert Invoice.objects.count() == 1


def test_figures_that_were_not_shown_are_not_issued(browser: Browser, contract: Contract) -> None:
    page = browser.post(milestone_address(contract), {"issue": "ticket", "shown": "199.00/0.00"})

    assert page.status_code == 409
    assert "Nothing was issued: the figures are not those you saw" in page_text(page)
    assert Invoice.objects.count() == 0


def test_a_payment_that_is_billed_cannot_be_billed_again(browser: Browser, contract: Contract) -> None:
    bill(browser, contract)

    page = browser.get(milestone_address(contract))

    assert page.status_code == 422
    assert "“Deposit” is billed already" in page_text(page)


def test_the_final_bill_takes_all_that_is_left(browser: Browser, contract: Contract) -> None:
    bill(browser, contract)
    address = reverse("bill-final", args=[contract.job_id])
    shown = browser.get(address).context["preview"]

    browser.post(address, {"issue": "last", "shown": shown.key})

    assert Invoice.objects.latest("pk").total == Decimal("800.00")
    assert get_account(contract).to_bill == 0
    assert "All of the contract sum is billed" in page_text(browser.get(address))


def test_work_done_is_billed_by_percent_as_shown(browser: Browser, firm: Firm) -> None:
    contract = make_contract(firm, "1000.00", billing=Billing.PROGRESS, retainage="10")
    address, done = reverse("bill-progress", args=[contract.job_id]), {"percent_0": "100", "percent_1": "25"}

    preview = browser.post(address, done)
    key = preview.context["preview"].key
    browser.post(address, {**done, "issue": "once", "shown": key})

    invoice = Invoice.objects.get()
    assert key == "550.00/55.00"  # 400 + 25 % of 600; 10 % of it held
    assert (invoice.total, invoice.retained) == (Decimal("550.00"), Decimal("55.00"))
    assert {key.rpartition("/")[2]: percent for key, percent in invoice.progress.items()} == {
        "strip": "100",
        "tile": "25",
    }


def test_work_that_goes_back_is_refused_beside_its_part(browser: Browser, firm: Firm) -> None:
    contract = make_contract(firm, "1000.00", billing=Billing.PROGRESS)
    address = reverse("bill-progress", args=[contract.job_id])
    first = {"percent_0": "50", "percent_1": "0"}
    shown = browser.post(address, first).context["preview"].key
    browser.post(address, {**first, "issue": "once", "shown": shown})

    page = browser.post(address, {"percent_0": "40", "percent_1": "10"})

    assert page.status_code == 422
    assert "cannot go back to 40%" in str(page.context["form"].errors["percent_0"])
    assert Invoice.objects.count() == 1


@pytest.mark.parametrize("percent", ["101", "-1", "half"])
def test_a_percent_that_cannot_be_is_refused(browser: Browser, firm: Firm, percent: str) -> None:
    contract = make_contract(firm, billing=Billing.PROGRESS)

    page = browser.post(reverse("bill-progress", args=[contract.job_id]), {"percent_0": percent})

    assert page.status_code == 422
    assert "percent_0" in page.context["form"].errors


def test_payments_are_planned_anew_by_amount(browser: Browser, contract: Contract) -> None:
    bill(browser, contract)
    form = schedule_form(("Tile set", "300"), ("Fixtures set", "400.50"), ("At the end", "$99.50"))

    answer = browser.post(reverse("job-schedule", args=[contract.job_id]), form)

    assert answer.status_code == 302
    amounts = [str(row.amount) for row in contract.schedule.all()]
    assert amounts == ["200.00", "300.00", "400.50", "99.50"]


def test_payments_are_planned_anew_by_percent_of_what_is_left(browser: Browser, contract: Contract) -> None:
    bill(browser, contract)
    form = schedule_form(("A third", "33.33"), ("The rest", "66.67"), by="percent")

    browser.post(reverse("job-schedule", args=[contract.job_id]), form)

    amounts = [str(row.amount) for row in contract.schedule.all()]
    assert amounts == ["200.00", "266.64", "533.36"]  # 33.33 % and 66.67 % of 800.00


def test_payments_that_do_not_add_up_are_refused_with_what_is_missing(
    browser: Browser, contract: Contract
) -> None:
    form = schedule_form(("Tile set", "300"), ("At the end", "400"))

    page = browser.post(reverse("job-schedule", args=[contract.job_id]), form)

    assert page.status_code == 422
    assert "300.00 missing" in page_text(page)
    assert [str(row.amount) for row in contract.schedule.all()] == ["200.00", "500.00", "300.00"]


def test_what_was_held_back_is_released_with_a_notice(browser: Browser, contract: Contract) -> None:
    invoice = bill(browser, contract, 2)

    browser.post(reverse("retainage-release", args=[contract.job_id]), {"total": "20", "ticket": "t"})

    release = invoice.releases.get()
    assert release.amount == Decimal("20.00")
    notice = browser.get(reverse("release-paper", args=[release.pk]))
    assert notice.content == bytes(release.notice.pdf)
    assert get_account(contract).retained == Decimal("30.00")


def test_more_than_is_held_back_is_not_released(browser: Browser, contract: Contract) -> None:
    bill(browser, contract, 2)

    page = browser.post(reverse("retainage-release", args=[contract.job_id]), {"total": "50.01"})

    assert page.status_code == 422
    assert "Only 50.00 is held back" in page_text(page)


def test_a_deposit_above_the_cap_is_not_even_shown(browser: Browser, contract: Contract) -> None:
    PriceSettings.objects.update(deposit_cap_percent=Decimal(10))

    page = browser.get(milestone_address(contract))

    assert page.status_code == 422
    assert "above the cap" in page_text(page)


def test_a_job_billed_by_milestone_is_not_billed_by_percent(browser: Browser, contract: Contract) -> None:
    page = browser.post(reverse("bill-progress", args=[contract.job_id]), {"percent_0": "50"})

    assert page.status_code == 422
    assert "billed by milestone" in page_text(page)


def test_too_much_billed_says_over_how_much_a_credit_is_due(browser: Browser, contract: Contract) -> None:
    bill(browser, contract)
    add_part(contract, -make_amounts("900.00"))

    page = browser.get(reverse("job-bills", args=[contract.job_id]))

    assert "Write a credit note over $100.00" in page_text(page)
