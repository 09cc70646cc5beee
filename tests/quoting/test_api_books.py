"""The firm's books by program: rate book, templates, materials, prices; what is read can be sent back."""

from typing import Any

import pytest

from labour.firm.models import AuditLine, Firm, Role
from tests.makers import make_firm, make_material, make_prices, make_task, make_template, make_worker
from tests.quoting.api_caller import Caller, fields_of, make_caller
from tests.quoting.catalogue_cast import make_supplied_firm

pytestmark = pytest.mark.django_db

TASK: dict[str, Any] = {
    "code": "hang-mirror", "name": "Hang a mirror", "client_text": "Hang the mirror", "phase": "fixtures",
    "unit": "each", "rate": "1.5", "rate_low": "1", "rate_high": "2", "setup_hours": "0.25",
    "conditions": {"upper_floor": "1.10"}, "source": "own jobs",
}  # fmt: skip
BAG = {
    "name": "Thin-set mortar", "category": "material", "content_unit": "lb", "pack_name": "50 lb bag",
    "pack_size": "50", "price": "24.80", "priced_on": "2026-10-01", "supplier": "Quay Supply",
}  # fmt: skip


@pytest.fixture
def firm() -> Firm:
    return make_firm()


@pytest.fixture
def owner(firm: Firm) -> Caller:
    return make_caller(firm)


def test_a_task_is_added_read_and_changed_with_its_history(owner: Caller) -> None:
    added = owner.do("post", "/rate-book", TASK)
    changed = owner.do("patch", "/rate-book/hang-mirror", {"rate": "1.75", "source": "own jobs, autumn"})

    assert added | TASK | {"conditions": {"upper_floor": "1.1"}} == added
    assert (changed["rate"], changed["rate_low"], changed["crew_max"]) == ("1.75", "1", 2)
    assert changed["history"][0]["words"][0] == "units per labour-hour: 1.5 → 1.75"
    assert owner.get("/rate-book/hang-mirror") == changed
    assert [task["code"] for task in owner.get("/rate-book?search=mirror")] == ["hang-mirror"]


@pytest.mark.parametrize(
    ("field", "value"), [("rate", "0"), ("crew_min", 0), ("source", None), ("conditions", {"rain": "1.1"})]
)
def test_a_task_that_cannot_be_is_refused_by_its_field(owner: Caller, field: str, value: Any) -> None:
    owner.do("post", "/rate-book", TASK)
    before = owner.get("/rate-book/hang-mirror")

    problem = owner.refused("patch", "/rate-book/hang-mirror", {field: value})

    assert field in fields_of(problem)
    assert owner.get("/rate-book/hang-mirror") == before


def test_the_code_of_a_task_never_changes(owner: Caller) -> None:
    owner.do("post", "/rate-book", TASK)

    problem = owner.refused("patch", "/rate-book/hang-mirror", {"code": "hang-glass"})

    assert fields_of(problem) == ["code"]


def test_a_template_is_copied_and_given_other_lines(firm: Firm, owner: Caller) -> None:
    make_template(firm, code=make_task(firm).code)

    owner.do("post", "/templates/new-toilet/copy", {"new_slug": "two-toilets", "new_name": "Two toilets"})
    lines = [{"kind": "task", "code": "set-toilet", "quantity": "2", "when": "toilet_count > 1"}]
    changed = owner.do("put", "/templates/two-toilets/lines", {"lines": lines})

    assert changed["lines"] == [lines[0] | {"key": "001-set-toilet", "option": "", "unless": ""}]
    assert [row["slug"] for row in owner.get("/templates")] == ["new-toilet", "two-toilets"]
    assert owner.get("/templates/new-toilet")["lines"][0]["quantity"] == "1"


def test_a_line_that_cannot_be_read_is_refused_with_its_number(firm: Firm, owner: Caller) -> None:
    make_template(firm, code=make_task(firm).code)
    lines = [{"kind": "task", "code": "set-toilet", "quantity": "floor_aera"}]

    problem = owner.refused("put", "/templates/new-toilet/lines", {"lines": lines})

    assert fields_of(problem) == ["new-toilet line 1 quantity"]
    assert "floor_area" in problem["detail"]


def test_the_words_of_expressions_are_listed(owner: Caller) -> None:
    words = owner.get("/vocabulary")

    assert {"name": "perimeter", "dimension": 1, "meaning": "Around the outline"} in words["quantities"]
    assert "cement" in words["facts"]["grout"] and "small_room" in words["conditions"]


def test_a_material_is_added_changed_and_priced(owner: Caller) -> None:
    added = owner.do("post", "/materials", BAG | {"code": "thinset"})
    renamed = owner.do("put", "/materials/thinset", BAG | {"name": "White thin-set"})
    priced = owner.do("put", "/materials/thinset/price", {"price": "26", "priced_on": "2026-10-02"})
    unknown = owner.do("put", "/materials/thinset/price", {"price": None, "priced_on": "2026-10-03"})

    assert (added["unit_price"], renamed["name"], priced["price"]) == ("0.50", "White thin-set", "26.00")
    assert unknown["price"] is None
    assert unknown["price_changes"][0]["before"].startswith("26")
    found = owner.get("/materials?search=white&missing=true")
    assert (found["materials"][0]["code"], found["missing_prices"]) == ("thinset", 1)


@pytest.mark.parametrize(
    "change",
    [
        {"category": "labour"},
        {"pack_size": "0"},
        {"price": "-1"},
        {"priced_on": None},
        {"priced_on": "2999-01-01"},
    ],
)
def test_a_material_that_cannot_be_is_refused_by_its_field(owner: Caller, change: dict[str, Any]) -> None:
    problem = owner.refused("post", "/materials", BAG | {"code": "thinset"} | change)

    assert fields_of(problem) == list(change)
    assert owner.get("/materials")["materials"] == []


def test_the_rules_of_a_task_are_shown_with_a_worked_example() -> None:
    office = make_caller(make_supplied_firm(), Role.OFFICE)

    rules = office.get("/rate-book/tile-floor/materials")

    assert [(rule["material"], rule["kind"], rule["example"]) for rule in rules] == [
        ("thinset", "bed", "100 sq ft")
    ]
    assert rules == office.get("/materials/thinset")["uses"]
    assert rules[0]["values"]["notch_width"] == "0.25"


def test_price_settings_are_read_changed_and_sent_back_whole(firm: Firm, owner: Caller) -> None:
    make_prices(firm)
    document = owner.get("/price-settings")
    document["rules"]["labour"] |= {"method": "margin", "percent": "35"}
    document["taxes"] = [{"name": "State", "rate": "6.25", "categories": ["material"]}]
    document |= {"plumber_cost": "98.50", "valid_days": 21}

    saved = owner.do("put", "/price-settings", document)

    assert saved == document == owner.get("/price-settings")


def test_price_settings_that_do_not_add_up_change_nothing(firm: Firm, owner: Caller) -> None:
    make_prices(firm)
    before = owner.get("/price-settings")
    payments = [{"name": "Deposit", "percent": "60"}]

    problem = owner.refused("put", "/price-settings", before | {"milestones": payments, "valid_days": 0})

    assert set(fields_of(problem)) == {"milestones", "valid_days"}
    assert owner.get("/price-settings") == before


def test_a_rule_is_tried_on_100_of_cost(owner: Caller) -> None:
    rule = {"overhead": "0", "contingency": "0", "purchase_tax": "0", "method": "margin", "percent": "20"}

    tried = owner.do("post", "/price-settings/example", {"category": "labour", "rule": rule})
    rule["percent"] = "100"
    problem = owner.refused("post", "/price-settings/example", {"category": "labour", "rule": rule})

    # 100 ÷ (1 − 0.20) = 125
    assert (tried["price"], tried["markup"], tried["margin"]) == ("125.00", "25", "20")
    assert fields_of(problem) == ["rule"]


def test_only_the_owner_changes_how_prices_are_made(firm: Firm) -> None:
    make_prices(firm)
    office = make_caller(firm, Role.OFFICE)

    problem = office.refused("put", "/price-settings", office.get("/price-settings"))

    assert problem["status"] == 403


def test_every_change_leaves_a_line_of_who_did_it(firm: Firm, owner: Caller) -> None:
    make_material(firm)
    make_worker(firm)

    owner.do("put", "/materials/wax-ring/price", {"price": "7.00", "priced_on": "2026-10-01"})

    line = AuditLine.objects.of(firm).get(action="change price")
    assert line.by.email == f"owner-program-{firm.pk}@example.com"
