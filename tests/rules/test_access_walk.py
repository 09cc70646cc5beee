"""Walks every address: strangers, other firms and the crew see and change only what is theirs."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import pytest
from django.core.management import call_command
from django.test import Client as Browser

from labour.firm.models import Role
from tests.rules.gate import Gate
from tests.rules.gates import GATES
from tests.rules.house import House, Rows, all_rows, browser_of, make_house
from tests.rules.routes import list_routes

MARKER = "MARKER-HARBOR"
LOG_IN = "/accounts/login/"
METHODS = {route.name: route.methods for route in list_routes()}
ROUTES = sorted(METHODS)

pytestmark = [pytest.mark.django_db, pytest.mark.slow]
each_route = pytest.mark.parametrize("name", ROUTES)
_ASKED = [(name, role) for name in ROUTES if name in GATES for role in Role]
OPEN = [(name, role) for name, role in _ASKED if role in (GATES[name].roles or ())]
CLOSED = [(name, role) for name, role in _ASKED if GATES[name].roles and (name, role) not in OPEN]


@dataclass(frozen=True)
class Street:
    """Two firms side by side. others: every row that the mill must not touch."""

    harbor: House
    others: Rows
    mill: House


@pytest.fixture(scope="module")
def street(django_db_setup: None, django_db_blocker: Any) -> Iterator[Street]:
    """Both firms, made once: hundreds of routes are asked, and each test takes back what it changed."""
    with django_db_blocker.unblock():
        harbor = make_house(MARKER)
        others = all_rows()
        yield Street(harbor, others, make_house("OTHER-MILL"))
        call_command("flush", interactive=False, verbosity=0)


@pytest.fixture
def harbor(street: Street) -> House:
    """The firm that must not be seen."""
    return street.harbor


def gate_of(name: str) -> Gate:
    """The route's line in the table."""
    if name not in GATES:
        pytest.fail(f"tests/rules/gates.py does not say who may pass “{name}”: add a line.")
    return GATES[name]


def ask(browser: Browser, name: str, method: str, house: House, body: Mapping[str, Any]) -> Any:
    """What the route answers to the method; forms go to pages, JSON goes to the API."""
    address, send = gate_of(name).address(name, house), getattr(browser, method)
    if method == "get":
        return send(address)
    if method == "post" and ":" not in name:
        return send(address, body)
    return send(address, json.dumps(body), content_type="application/json")


def ask_all(browser: Browser, name: str, house: House) -> dict[str, Any]:
    """The answers to every method, with an empty body and then with a real one."""
    body = gate_of(name).body_for(house)
    answers = {method: ask(browser, name, method, house, {}) for method in METHODS[name]}
    filled_in = [method for method in METHODS[name] if method != "get" and body]
    return answers | {f"{method} filled in": ask(browser, name, method, house, body) for method in filled_in}


def text_of(answer: Any) -> str:
    """The whole answer as text, its redirect too."""
    content = b"".join(answer.streaming_content) if answer.streaming else answer.content
    return f"{content.decode(errors='replace')} {answer.headers.get('Location', '')}"


def is_closed(answer: Any) -> bool:
    """Sent to log in, or refused."""
    to_log_in = answer.status_code == 302 and answer.headers["Location"].startswith(LOG_IN)
    return to_log_in or answer.status_code in (401, 403, 404, 405)


def test_the_table_knows_every_route_and_no_other() -> None:
    found = {route.name: route.takes for route in list_routes()}

    assert set(found) - set(GATES) == set(), "Add these to tests/rules/gates.py."
    assert set(GATES) - set(found) == set(), "Take these out of tests/rules/gates.py: there is no such route."
    assert {name: frozenset(GATES[name].takes) for name in found} == found


@each_route
def test_a_stranger_sees_nothing_and_changes_nothing(name: str, harbor: House) -> None:
    before = all_rows()

    answers = ask_all(Browser(), name, harbor)

    shown = [method for method, answer in answers.items() if MARKER.lower() in text_of(answer).lower()]
    is_public = gate_of(name).roles is None
    opened = [method for method, answer in answers.items() if not is_public and not is_closed(answer)]
    assert (shown, opened) == ([], [])
    assert all_rows() == before


@each_route
def test_another_firms_owner_sees_nothing_and_changes_nothing(name: str, street: Street) -> None:
    browser, others = browser_of(street.mill.people[Role.OWNER]), street.others
    before = all_rows()

    answers = ask_all(browser, name, street.harbor)

    after = all_rows()
    assert [method for method, answer in answers.items() if MARKER.lower() in text_of(answer).lower()] == []
    assert {key: after.get(key) for key in others} == others
    if gate_of(name).asks_for_rows:
        tried = answers.get("get") or [*answers.values()][-1]
        assert tried.status_code in (404, 405) or (not gate_of(name).body and tried.status_code == 422)
        assert [method for method, answer in answers.items() if answer.status_code < 300] == []
        assert after == before


@pytest.mark.parametrize(("name", "role"), CLOSED)
def test_a_role_that_may_not_pass_is_refused(name: str, role: Role, harbor: House) -> None:
    browser = browser_of(harbor.people[role])
    before = all_rows()

    answers = ask_all(browser, name, harbor)

    assert {answer.status_code for answer in answers.values()} - {405} == {403}
    assert all_rows() == before


@pytest.mark.parametrize(("name", "role"), OPEN)
def test_a_role_that_may_pass_finds_the_page(name: str, role: Role, harbor: House) -> None:
    method = METHODS[name][0]
    body = {} if method == "get" else gate_of(name).body_for(harbor)

    answer = ask(browser_of(harbor.people[role]), name, method, harbor, body)

    assert answer.status_code in (200, 201, 204, 302, 405) or (method != "get" and answer.status_code == 422)
    assert answer.status_code != 302 or not answer.headers["Location"].startswith(LOG_IN)


@pytest.mark.parametrize("name", [name for name in ROUTES if name in GATES and GATES[name].body])
def test_what_a_form_sends_changes_something_for_its_own_firm(name: str, harbor: House) -> None:
    browser = browser_of(harbor.people[Role.OWNER])
    before = all_rows()

    answer = ask(browser, name, METHODS[name][-1], harbor, gate_of(name).body_for(harbor))

    assert all_rows() != before, f"{answer.status_code}: what gates.py sends is refused, so it tries no gate."


@pytest.mark.parametrize("name", [name for name, role in OPEN if role is Role.CREW])
def test_the_crew_never_sees_a_price_a_wage_or_a_total(name: str, harbor: House) -> None:
    text = text_of(ask(browser_of(harbor.people[Role.CREW]), name, METHODS[name][0], harbor, {}))

    jobs, bills = harbor.jobs, harbor.bills
    amounts = [harbor.quote.total, harbor.worker.wage, harbor.material.price, jobs.contract.quote_total]
    amounts += [jobs.change.total, jobs.sent_change.total, bills.invoice.total, bills.payment.amount]
    figures = {figure for amount in amounts for figure in (str(amount), f"{amount:,}")}
    assert [figure for figure in figures if figure in text] == []
