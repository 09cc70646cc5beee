"""A client's secret address opens one thing of theirs, and nothing of the firm's or of anybody else's."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import pytest
from django.core.management import call_command
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from labour.firm.models import Role
from quoting.agree.models import ClientLink
from quoting.agree.tokens import token_of
from tests.makers import make_client, make_site
from tests.reading import page_text
from tests.rules.gates import GATES
from tests.rules.house import all_rows, make_house
from tests.rules.house_bill import Bills, make_bills
from tests.rules.house_job import Ground, Jobs, make_jobs

MARKER, NEIGHBOUR, STRANGER = "MARKER-HARBOR", "SECOND-ELM", "OTHER-MILL"
ROUTES = sorted(name for name, gate in GATES.items() if "token" in gate.takes)
PAGES = ("offer-public", "public-change", "account-public")
ANSWERS = ("offer-decline", "public-change-decline")
OF_THE_FIRM = re.compile(r"\b(cost|margins?|mark-?ups?|overhead|contingency|wages?|profit)\b|\d hours?\b")
KEPT_BACK = "ONLY-FOR-THE-FIRM"

pytestmark = [pytest.mark.django_db, pytest.mark.slow]
each_route = pytest.mark.parametrize("name", ROUTES)


@dataclass(frozen=True)
class Door:
    """A client's address. link: whose token opens it. more: what else the address names."""

    link: ClientLink
    more: dict[str, int] = field(default_factory=dict)

    def address(self, name: str, token: str = "") -> str:
        """The whole address, with the link's own token unless another is given."""
        return reverse(name, kwargs=self.more | {"token": token or token_of(self.link)})


@dataclass(frozen=True)
class Street:
    """The addresses of a client, of another client of the same firm, and of another firm's client."""

    doors: dict[str, Door]
    elm: dict[str, Door]
    mill: dict[str, Door]
    jobs: Jobs


@pytest.fixture(scope="module")
def street(django_db_setup: None, django_db_blocker: Any) -> Iterator[Street]:
    """Made once; each test takes back what it changed."""
    with django_db_blocker.unblock():
        harbor, mill = make_house(MARKER), make_house(STRANGER)
        site = make_site(harbor.firm, f"{NEIGHBOUR} site", client=make_client(harbor.firm, NEIGHBOUR))
        ground = Ground(NEIGHBOUR, harbor.people[Role.OWNER], site, harbor.task, harbor.template)
        elm = doors_of(make_jobs(ground), make_bills(ground))
        yield Street(doors_of(harbor.jobs, harbor.bills), elm, doors_of(mill.jobs, mill.bills), harbor.jobs)
        call_command("flush", interactive=False, verbosity=0)


def doors_of(jobs: Jobs, bills: Bills) -> dict[str, Door]:
    """Every address of a client by its route."""
    return {
        "offer-public": Door(jobs.offer_link),
        "offer-decline": Door(jobs.offer_link),
        "offer-paper": Door(jobs.offer_link),
        "offer-executed": Door(jobs.accepted_link),
        "public-change": Door(jobs.change_link),
        "public-change-decline": Door(jobs.change_link),
        "public-change-paper": Door(jobs.change_link),
        "public-change-executed": Door(jobs.approved_link),
        "public-change-photo": Door(jobs.change_link, {"photo_id": jobs.photo.pk}),
        "account-public": Door(bills.account_link),
        "account-invoice": Door(bills.account_link, {"invoice_id": bills.invoice.pk}),
        "account-credit": Door(bills.account_link, {"credit_id": bills.credit.pk}),
        "account-release": Door(bills.account_link, {"release_id": bills.release.pk}),
    }


def knock(name: str, address: str) -> Any:
    """The answer to a stranger: answers are posted, all else is read."""
    return Browser().post(address, {"why": "No"}) if name in ANSWERS else Browser().get(address)


def assert_hidden(name: str, address: str) -> None:
    """Not found, whatever is asked and sent; nothing of anybody is shown."""
    answers = [knock(name, address), Browser().post(address, {"do": "accept", "name": "Ada Brook"})]

    assert answers[0].status_code == 404
    assert answers[1].status_code in (404, 405)
    shown = b" ".join(answer.content for answer in answers).lower()
    assert [word for word in (MARKER, NEIGHBOUR, STRANGER) if word.lower().encode() in shown] == []


def assert_closed(name: str, address: str) -> None:
    """Hidden, and nothing is changed, not even when it was opened last."""
    before = all_rows()

    assert_hidden(name, address)

    assert all_rows() == before


def test_every_route_behind_a_token_is_tried_here(street: Street) -> None:
    assert sorted(street.doors) == ROUTES


@each_route
def test_a_link_opens_its_own_thing_and_shows_no_other_client(name: str, street: Street) -> None:
    answer = knock(name, street.doors[name].address(name))

    assert answer.status_code == (302 if name in ANSWERS else 200)
    assert name in ANSWERS or MARKER.encode() in answer.content
    assert NEIGHBOUR.encode() not in answer.content
    assert STRANGER.encode() not in answer.content
    assert "noindex" in answer["X-Robots-Tag"]
    assert answer["Cache-Control"] == "no-store"
    assert answer["Referrer-Policy"] == "no-referrer"


@pytest.mark.parametrize("name", PAGES)
def test_a_clients_page_speaks_of_no_cost_no_margin_and_no_hours(name: str, street: Street) -> None:
    text = page_text(knock(name, street.doors[name].address(name))).lower()

    assert OF_THE_FIRM.findall(text) == []


def test_a_clients_page_reads_nothing_of_the_firms_own_figures(street: Street) -> None:
    for row in (street.jobs.sent, street.jobs.sent_change):
        row.figures = row.figures | {"firm_view": keep_back(row.figures["firm_view"])}
        row.save(update_fields=["figures"])

    pages = [knock(name, street.doors[name].address(name)) for name in PAGES]

    assert [page.status_code for page in pages] == [200, 200, 200]
    assert [KEPT_BACK.encode() in page.content for page in pages] == [False, False, False]


def keep_back(value: Any) -> Any:
    """The value with every text in it made one that must be shown nowhere."""
    if isinstance(value, dict):
        return {key: keep_back(inner) for key, inner in value.items()}
    return [keep_back(inner) for inner in value] if isinstance(value, list) else KEPT_BACK


@each_route
def test_an_altered_token_opens_nothing(name: str, street: Street) -> None:
    door, other = street.doors[name], street.elm[name]
    number, nonce, signature = token_of(door.link).split(".")
    last = "A" if signature[-1] != "A" else "B"

    for token in (
        f"{number}.{nonce}.{signature[:-1]}{last}",
        f"{other.link.pk}.{nonce}.{signature}",
        f"{number}.{nonce}x.{signature}",
        f"{number}.{nonce}.",
        signature,
    ):
        assert_closed(name, door.address(name, token))


@each_route
def test_a_token_of_another_kind_opens_nothing(name: str, street: Street) -> None:
    door = street.doors[name]
    kinds = {type(other.link): other.link for other in street.doors.values()}
    del kinds[type(door.link)]

    assert len(kinds) == 2
    for link in kinds.values():
        assert_closed(name, door.address(name, token_of(link)))


@pytest.mark.parametrize("name", [name for name in ROUTES if len(GATES[name].takes) > 1])
def test_a_link_opens_no_paper_or_photo_of_another_client(name: str, street: Street) -> None:
    own = token_of(street.doors[name].link)

    assert_hidden(name, street.elm[name].address(name, own))
    assert_hidden(name, street.mill[name].address(name, own))


def test_a_link_opens_no_photo_that_is_not_on_its_change_order(street: Street) -> None:
    loose = Door(street.jobs.change_link, {"photo_id": street.jobs.loose_photo.pk})

    assert_closed("public-change-photo", loose.address("public-change-photo"))


@each_route
@pytest.mark.parametrize("ended", ["revoked_at", "expires_at"])
def test_a_link_that_was_withdrawn_or_has_run_out_opens_nothing(
    name: str, ended: str, street: Street
) -> None:
    door = street.doors[name]
    type(door.link)._default_manager.filter(pk=door.link.pk).update(**{ended: timezone.now()})

    assert_closed(name, door.address(name))
