"""Sending a change order from its page: a second click, one taken back, and no mail server."""

from typing import Any

import pytest
from django.test import Client as Browser

from quoting.agree.models import Contract
from quoting.change.models import ChangeLink
from quoting.documents.models import Letter
from tests.quoting.change_job_cast import browser_for, make_job, raise_change, send_change
from tests.reading import page_text

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def job() -> tuple[Contract, Browser]:
    """The hall bath's contract, and the owner's browser."""
    contract, owner = make_job()
    return contract, browser_for(owner)


def test_a_second_click_on_send_lands_on_what_the_first_one_sent(job: tuple[Contract, Browser]) -> None:
    contract, browser = job
    change = raise_change(contract)
    address = f"/changes/{change.pk}/send/"

    browser.post(address)
    page = browser.post(address, follow=True)

    assert page.redirect_chain == [(f"/changes/{change.pk}/", 302)]
    assert f"{change.number} was sent already" in page_text(page)
    assert Letter.objects.filter(about=f"change order {change.number}").count() == 1
    assert ChangeLink.objects.count() == 1


def test_a_change_taken_back_is_not_said_to_be_sent(job: tuple[Contract, Browser]) -> None:
    contract, browser = job
    change = raise_change(contract)
    browser.post(f"/changes/{change.pk}/withdraw/", {"why": ""})

    answer = browser.post(f"/changes/{change.pk}/send/")

    assert answer.status_code == 422 and not ChangeLink.objects.exists()


def test_without_a_mail_server_the_page_says_that_letters_reach_nobody(
    job: tuple[Contract, Browser], settings: Any
) -> None:
    contract, browser = job
    change = raise_change(contract)
    before = browser.get(f"/changes/{change.pk}/")
    settings.MAILERS = {"default": {"BACKEND": "django.core.mail.backends.filebased.EmailBackend"}}

    draft = browser.get(f"/changes/{change.pk}/")
    send_change(change)
    sent = browser.get(f"/changes/{change.pk}/")

    told = "No mail server is set up: letters are kept as files and reach nobody. Send the link yourself."
    assert told in page_text(draft) and told in page_text(sent)
    assert "No mail server" not in page_text(before)
