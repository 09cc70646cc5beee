"""Every page, looked over by axe, by ruler and by key, at both widths, in light and in dark."""

import re
from decimal import Decimal

import pytest
from django.utils import timezone

from quoting.agree.links import make_link
from quoting.agree.tokens import token_of
from quoting.bill.links import make_account_link
from quoting.bill.mailing import draft_reminder, send_invoice
from quoting.bill.models import Payment
from quoting.bill.queries import get_standing
from quoting.catalogue.services import change_price
from quoting.change.links import make_change_link
from quoting.change.services import ChangeDraft, raise_change_order
from quoting.offer import lines
from quoting.offer.life import revise_quote
from quoting.offer.models import Quote
from quoting.offer.services import send_quote
from quoting.overview.demo import get_closed_job, get_main_contract
from tests.flows.browser import FOUR_WAYS, TWO_WAYS
from tests.hall_bath import OPTION, ROOM

pytestmark = pytest.mark.browser

FOR_ANYONE = (
    "/accounts/login/", "/accounts/signup/", "/accounts/inactive/", "/accounts/confirm-email/",
    "/accounts/password/reset/", "/accounts/password/reset/done/",
    "/accounts/password/reset/key/1-set-password/", "/accounts/password/reset/key/done/", "/nothing-here/",
)  # fmt: skip
OF_THE_FIRM = (
    "/", "/quotes/", "/quotes/new/", "/quotes/new/from-file/", "/clients/", "/clients/add/",
    "/rate-book/?q=tub", "/rate-book/add/", "/rate-book/set-toilet/", "/rate-book/learned/",
    "/templates/", "/templates/toilet-and-flange/", "/templates/toilet-and-flange/edit/",
    "/templates/toilet-and-flange/copy/", "/materials/?search=duct", "/materials/add/", "/prices/",
    "/firm/", "/firm/workers/", "/firm/people/", "/firm/keys/", "/api/docs", "/accounts/email/",
    "/accounts/password/change/", "/jobs/tasks/", "/log/", "/jobs/", "/hours/?which=all",
    "/hours/?by=month&which=all", "/hours/entries/?which=all", "/hours/kept/", "/jobs/past/",
    "/invoices/", "/payments/", "/payments/new/", "/receivables/", "/reports/sales-tax/",
    "/accounts/logout/", "/nothing-here/",
)  # fmt: skip
"""Pages whose address is known beforehand; long lists are shortened by a search, to save time."""

CLIENT = r"/clients/\d+/$"
TRAILS = (
    ("/clients/", CLIENT),
    ("/clients/", CLIENT, r"/clients/sites/\d+/$"),
    ("/clients/", CLIENT, r"/sites/add/$"),
    ("/materials/?search=duct", r"/materials/(?!add)[a-z0-9-]+/$"),
    ("/materials/?search=duct", r"/materials/(?!add)[a-z0-9-]+/$", r"/edit/$"),
    ("/firm/workers/", r"/firm/workers/\d+/$"),
    ("/firm/people/", r"/firm/people/\d+/$"),
    ("/jobs/past/", r"/jobs/past/\d+/$"),
)
"""Pages that a list leads to, by the first link whose address fits each pattern."""

OF_A_QUOTE = (
    "", "rooms/", "buying-list/", "work-sheet/", "setting-out/", "setting-out/?compare=yes",
    "buying-list/?by=day", "lines/1/", "edit/", "add-work/",
    "price-again/", "copy/", "risk/", "risk/?carried=yes&price=9000", "make-template/", "client/",
    "accepted-on-paper/",
)  # fmt: skip
OF_A_JOB = (
    "", "terms/", "changes/", "changes/new/", "findings/new/", "photos/", "log/", "log/more/", "costs/",
    "buying-list/", "buying-list/?by=day", "close/", "closeout/",
    "bills/", "bills/progress/", "bills/final/", "bills/schedule/",
)  # fmt: skip


def follow(visitor, pattern):
    """Open the first link of the page whose address fits."""
    links = visitor.page.locator("main a").all()
    next(link for link in links if re.search(pattern, link.get_attribute("href") or "")).click()
    visitor.page.wait_for_load_state()


FAULTS = (
    " label: ",
    "button-name",
    "color-contrast",
    "scrolls sideways: ",
    "is 20 px high",
    "shows no focus",
)


def test_what_is_unsound_is_found(visitor):
    page = visitor.go("/accounts/login/")
    page.evaluate("""() => {
        const add = (name, styles, text = "") => {
            const made = document.querySelector("main").appendChild(document.createElement(name))
            Object.assign(made.style, styles)
            made.textContent = text
        }
        add("input", {width: "900px"})
        add("button", {minHeight: "20px", height: "20px", outline: "none"})
        add("p", {color: "#bbbbbb", backgroundColor: "#dddddd"}, "pale words")
    }""")

    found = "\n".join(visitor.look_over())

    for fault in FAULTS:
        assert fault in found, fault


def test_pages_for_anyone_are_sound(visitor):
    found = []
    for address in FOR_ANYONE:
        visitor.go(address)
        found += visitor.look_over()

    assert not found, "\n".join(found)
    assert not visitor.errors


def test_every_page_of_the_firm_is_sound(visitor, demo):
    visitor.log_in_to_demo("owner")
    found = []
    for address in OF_THE_FIRM:
        visitor.go(address)
        found += visitor.look_over()
    for start, *links in TRAILS:
        visitor.go(start)
        for pattern in links:
            follow(visitor, pattern)
        found += visitor.look_over()

    assert not found, "\n".join(found)
    assert not visitor.errors


def test_every_page_of_a_quote_is_sound_with_its_whys_open(owner):
    quote = Quote.objects.get()
    found = []
    for part in OF_A_QUOTE:
        page = owner.go(f"/quotes/{quote.pk}/{part}")
        for why in page.locator("details.why > summary").all()[:3]:
            why.click()
        page.wait_for_load_state("networkidle")
        found += owner.look_over(FOUR_WAYS if part == "edit/" else TWO_WAYS)

    assert not found, "\n".join(found)
    assert not owner.errors


def revise_at_new_prices(quote):
    """A revision with a line more, a line less, a changed one, no option, and a price that has gone up."""
    asked = {"firm": quote.firm, "at": timezone.now(), "by": quote.created_by}
    send_quote(quote_id=quote.pk, **asked)
    make_link(quote_id=quote.pk, **asked)
    revised = revise_quote(quote_id=quote.pk, **asked)
    of_it = asked | {"quote_id": revised.pk}
    lines.set_quantity(key=f"{ROOM}/run-base", quantity="33", **of_it)
    lines.leave_out(key=f"{ROOM}/clean", **of_it)
    lines.add_work(room=ROOM, task="set-valve", quantity="1", **of_it)
    lines.choose_options(options=frozenset({OPTION}), **of_it)
    change_price(code="dumpster", price=Decimal(400), priced_on=timezone.localdate(), **asked)
    return revised


def test_the_pages_of_revisions_and_of_new_prices_are_sound(owner):
    quote = Quote.objects.get()
    revised = revise_at_new_prices(quote)
    parts = (revised.pk, "", "price-again/", f"compare/{quote.pk}/"), (quote.pk, "", "client/")
    found = []
    for pk, *addresses in parts:
        for part in addresses:
            owner.go(f"/quotes/{pk}/{part}")
            found += owner.look_over()

    assert not found, "\n".join(found)
    assert not owner.errors


def letter_pages(contract):
    """A letter that was sent, and a reminder that waits."""
    asked = {"firm": contract.firm, "at": timezone.now(), "by": None}
    invoice = next(row for row in contract.invoices.all() if get_standing(row).open > 0)
    letters = send_invoice(invoice_id=invoice.pk, **asked), draft_reminder(invoice_id=invoice.pk, **asked)
    return [f"/letters/{letter.pk}/" for letter in letters]


def money_pages(contract):
    """The other pages of a job: its changes with one in draft, its bills, what was paid."""
    finding = {"title": "Another niche", "reason": "wish", "finding": "A second niche is wished for."}
    asked = {"firm": contract.firm, "at": timezone.now(), "by": None}
    raise_change_order(job_id=contract.job_id, draft=ChangeDraft(**finding), ticket="", **asked)
    make_account_link(job_id=contract.job_id, **asked)
    invoice = contract.invoices.first()
    return [
        f"/jobs/{contract.job_id}/tasks/",
        f"/jobs/{get_closed_job(contract.firm).pk}/closeout/",
        f"/clients/{contract.client_id}/account/",
        f"/payments/new/?client={contract.client_id}",
        f"/payments/{Payment.objects.of(contract.firm).first().pk}/",
        f"/quotes/{contract.acceptance.quote_id}/client/",
        *(f"/changes/{change.pk}/" for change in contract.changes.all()),
        *(f"/invoices/{invoice.pk}/" for invoice in contract.invoices.all()),
        f"/jobs/{contract.job_id}/bills/payment/{invoice.milestone_id}/",
        *letter_pages(contract),
    ]


def test_every_page_of_a_job_is_sound(visitor, demo):
    contract = get_main_contract(demo)
    visitor.log_in_to_demo("owner")
    found = []
    for address in money_pages(contract) + [f"/jobs/{contract.job_id}/{part}" for part in OF_A_JOB]:
        visitor.go(address)
        found += visitor.look_over()

    assert not found, "\n".join(found)
    assert not visitor.errors


def client_pages(contract):
    """A client's pages of an open offer, of the accepted one, of a change order, of the account."""
    asked = {"firm": contract.firm, "at": timezone.now(), "by": None}
    draft = Quote.objects.of(contract.firm).get(status="draft")
    offers = [send_quote(quote_id=draft.pk, **asked), contract.acceptance.quote]
    change = contract.changes.get(place=1)
    return [
        *(f"/offer/{token_of(make_link(quote_id=quote.pk, **asked))}/" for quote in offers),
        f"/change/{token_of(make_change_link(change_id=change.pk, **asked))}/",
        f"/account/{token_of(make_account_link(job_id=contract.job_id, **asked))}/",
        "/offer/nothing/",
    ]


def test_every_page_behind_a_clients_link_is_sound(visitor, demo):
    found = []
    for address in client_pages(get_main_contract(demo)):
        visitor.go(address)
        found += visitor.look_over(FOUR_WAYS)

    assert not found, "\n".join(found)
    assert not visitor.errors


def test_the_whole_site_is_walked_by_keyboard_alone(owner):
    page = owner.go("/")
    walked = []
    page.keyboard.press("Tab")
    skip = page.evaluate("document.activeElement.textContent")
    sections = (
        "Quotes", "Jobs", "Hours", "Invoices", "Clients", "Templates", "Rate book", "Materials", "Prices",
        "Firm",
    )  # fmt: skip
    for name in sections:
        while page.evaluate("document.activeElement.textContent.trim()") != name:
            page.keyboard.press("Tab")
        page.keyboard.press("Enter")
        page.locator(f"nav[aria-label=Main] a[aria-current=page]:text-is('{name}')").wait_for()
        walked.append(page.locator("h1").inner_text())

    assert skip == "Skip to the page"
    assert walked == [
        "Quotes", "Jobs", "Estimated against actual", "Invoices", "Clients", "Scope templates", "Rate book",
        "Materials", "How prices are made", "Firm",
    ]  # fmt: skip
