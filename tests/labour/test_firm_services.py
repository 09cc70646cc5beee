"""Setting up a firm, its letterhead and its workers."""

from decimal import Decimal

import pytest

from labour.firm.models import AuditLine, Firm, Membership, Role, User, Worker
from labour.firm.queries import list_priced_workers
from labour.firm.services import (
    CannotFinishSetUp,
    CannotRetireWorker,
    CannotSaveFirm,
    CannotSaveWorker,
    CannotSetUpFirm,
    Letterhead,
    add_worker,
    change_worker,
    finish_set_up,
    retire_worker,
    save_firm,
    set_up_firm,
)
from tests.makers import AT, make_firm, make_member, make_worker

pytestmark = pytest.mark.django_db
BARE = Letterhead(name="Harbor Lane Baths")


def make_user() -> User:
    return User.objects.create_user("dana@example.com", "a-long-password")


def fields_of(refusal: pytest.ExceptionInfo) -> list[str]:
    return [problem.field for problem in refusal.value.problems]


def test_setting_up_makes_the_firm_its_owner_and_an_audit_line():
    user = make_user()

    firm = set_up_firm(user=user, letterhead=Letterhead(name=" Harbor Lane Baths ", currency="cad"), at=AT)

    member = Membership.objects.get(firm=firm)
    assert (member.user, member.role) == (user, Role.OWNER)
    assert (firm.name, firm.currency, firm.set_up_at) == ("Harbor Lane Baths", "CAD", None)
    assert AuditLine.objects.get(firm=firm).action == "set up firm"


def test_a_log_in_cannot_set_up_a_second_firm():
    user = make_user()
    set_up_firm(user=user, letterhead=BARE, at=AT)

    with pytest.raises(CannotSetUpFirm, match="One log-in serves one firm"):
        set_up_firm(user=user, letterhead=BARE, at=AT)

    assert Firm.objects.count() == 1


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"name": "  "}, "name"),
        ({"name": "B" * 121}, "name"),
        ({"email": "not-an-address"}, "email"),
        ({"phone": "555-0100\0"}, "phone"),
        ({"paper": "legal"}, "paper"),
        ({"units": "cubits"}, "units"),
        ({"currency": "US"}, "currency"),
        ({"country": "UK"}, "country"),
        ({"country": "ZZ"}, "country"),
    ],
)
def test_a_wrong_letterhead_is_refused_by_field_and_nothing_is_made(wrong, field):
    letterhead = Letterhead(**({"name": "Harbor Lane Baths"} | wrong))

    with pytest.raises(CannotSetUpFirm) as refusal:
        set_up_firm(user=make_user(), letterhead=letterhead, at=AT)

    assert fields_of(refusal) == [field]
    assert not Firm.objects.exists()


def test_a_country_is_taken_in_small_letters_and_uk_is_told_its_code():
    firm = set_up_firm(user=make_user(), letterhead=Letterhead(name="Harbor Lane Baths", country="gb"), at=AT)

    with pytest.raises(CannotSaveFirm, match="GB, not UK"):
        save_firm(
            firm=firm, letterhead=Letterhead(name=firm.name, country="uk"), by=User.objects.get(), at=AT
        )

    firm.refresh_from_db()
    assert firm.country == "GB"


def test_saving_the_letterhead_records_only_what_changed():
    firm = make_firm()
    owner = make_member(firm)

    save_firm(firm=firm, letterhead=Letterhead(name=firm.name, phone="555-0142"), by=owner, at=AT)

    firm.refresh_from_db()
    line = AuditLine.objects.get(firm=firm)
    assert firm.phone == "555-0142"
    assert (line.by, line.at, line.detail) == (owner, AT, {"phone": ["", "555-0142"]})


def test_a_refused_letterhead_leaves_the_firm_as_it_was():
    firm = make_firm()

    with pytest.raises(CannotSaveFirm):
        save_firm(firm=firm, letterhead=Letterhead(name=""), by=make_member(firm), at=AT)

    firm.refresh_from_db()
    assert firm.name == "Harbor Lane Baths"


def test_set_up_is_not_finished_without_a_worker():
    firm = make_firm(set_up=False)

    with pytest.raises(CannotFinishSetUp, match="at least one worker"):
        finish_set_up(firm=firm, by=make_member(firm), at=AT)

    firm.refresh_from_db()
    assert firm.set_up_at is None


def test_finishing_the_set_up_twice_does_it_once():
    firm = make_firm(set_up=False)
    make_worker(firm)
    owner = make_member(firm)
    finish_set_up(firm=firm, by=owner, at=AT)

    finish_set_up(firm=firm, by=owner, at=AT.replace(year=2027))

    assert Firm.objects.get().set_up_at == AT
    assert AuditLine.objects.filter(action="finish set-up").count() == 1


def add(firm: Firm, wage: str = "30.25", burden: str = "30", name: str = "Sam Okafor") -> Worker:
    by = User.objects.filter(membership__firm=firm).first() or make_member(firm)
    amounts = {"wage": Decimal(wage), "burden_percent": Decimal(burden)}
    return add_worker(firm=firm, name=name, trade="tile", by=by, at=AT, **amounts)


def test_the_loaded_cost_is_wage_and_burden_rounded_half_up():
    # 30.25 × 1.30 = 39.325, half up 39.33
    firm = make_firm()
    add(firm)

    (row,) = list_priced_workers(firm)

    assert row.loaded_cost == Decimal("39.33")
    assert row.why.worked.endswith("= 39.325")


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        ({"wage": "0"}, "wage"),
        ({"wage": "-4"}, "wage"),
        ({"wage": "1000.01"}, "wage"),
        ({"wage": "30.005"}, "wage"),
        ({"wage": "NaN"}, "wage"),
        ({"burden": "-1"}, "burden_percent"),
        ({"burden": "301"}, "burden_percent"),
        ({"burden": "Infinity"}, "burden_percent"),
        ({"name": "  "}, "name"),
        ({"name": "S" * 81}, "name"),
    ],
)
def test_a_wrong_worker_is_refused_by_field(typed, field):
    firm = make_firm()

    with pytest.raises(CannotSaveWorker) as refusal:
        add(firm, **typed)

    assert fields_of(refusal) == [field]
    assert not Worker.objects.exists()


def test_a_changed_wage_is_saved_and_its_figures_stay_out_of_the_record():
    worker = add(make_firm())

    change_worker(
        worker=worker, name="Sam Okafor", trade="", wage=Decimal("34"), burden_percent=Decimal(28),
        by=make_member(worker.firm, email="second@example.com"), at=AT,
    )  # fmt: skip

    worker.refresh_from_db()
    line = AuditLine.objects.get(action="change worker")
    assert (worker.wage, worker.burden_percent, worker.trade) == (34, 28, "")
    assert line.detail == {}


def test_a_retired_worker_no_longer_counts_and_the_last_one_stays():
    firm = make_firm()
    first, last = add(firm), add(firm, name="Rosa Lindqvist")
    owner = User.objects.get()

    retire_worker(worker=first, by=owner, at=AT)

    assert [row.worker for row in list_priced_workers(firm)] == [last]
    with pytest.raises(CannotRetireWorker, match="retired already"):
        retire_worker(worker=first, by=owner, at=AT)
    with pytest.raises(CannotRetireWorker, match="only worker"):
        retire_worker(worker=last, by=owner, at=AT)
