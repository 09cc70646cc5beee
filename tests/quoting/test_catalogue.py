"""The catalogue's services and queries: loading, prices, materials, lists."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest
from pytest_django import DjangoAssertNumQueries

from labour.firm.models import AuditLine, Firm, User
from quoting.catalogue.models import ConsumptionRow, MaterialRow
from quoting.catalogue.queries import get_catalogue, list_materials, list_price_changes
from quoting.catalogue.services import (
    CannotAddMaterial,
    CannotChangeMaterial,
    CannotChangePrice,
    CannotLoadCatalogue,
    add_material,
    change_material,
    change_price,
    load_catalogue,
)
from quoting.engine.materials.values import Material
from quoting.engine.pricing.values import Category
from tests.makers import AT
from tests.quoting.catalogue_cast import BAG, BED, TODAY, make_supplied_firm, make_tiler_firm


@pytest.fixture
def firm(db: None) -> Firm:
    return make_tiler_firm()


@pytest.fixture
def loaded(db: None) -> Firm:
    return make_supplied_firm()


@pytest.fixture
def owner(db: None) -> User:
    return User.objects.create_user("owner@example.com", "a-long-password")


def test_what_is_loaded_comes_back_as_the_engine_values(
    firm: Firm, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    counts = load_catalogue(firm=firm, materials=[BAG], rules=[BED])

    with django_assert_num_queries(2):
        catalogue = get_catalogue(firm)

    assert counts == (1, 1)
    assert catalogue.materials == {"thinset": BAG}
    assert catalogue.rules == {"tile-floor": (BED,)}


def test_loading_again_adds_only_what_is_missing(loaded: Firm, owner: User) -> None:
    change_price(firm=loaded, code="thinset", price=Decimal(30), priced_on=TODAY, by=owner, at=AT)
    screws = replace(BAG, code="screws", content_unit="each")

    counts = load_catalogue(firm=loaded, materials=[BAG, screws], rules=[BED])

    assert counts == (1, 0)
    assert get_catalogue(loaded).materials["thinset"].price == 30


def test_a_bad_catalogue_is_refused_whole_with_every_problem(firm: Firm) -> None:
    rules = [
        replace(BED, task_code="lay-carpet"),
        replace(BED, material_code="glue"),
        replace(BED, values={}),
    ]

    with pytest.raises(CannotLoadCatalogue) as refused:
        load_catalogue(firm=firm, materials=[BAG, replace(BAG, code="bad code")], rules=rules)

    said = str(refused.value)
    assert all(text in said for text in ("lay-carpet", "“glue”", "density", "bad code"))
    assert not MaterialRow.objects.exists()
    assert not ConsumptionRow.objects.exists()


def test_a_rule_that_gives_another_unit_is_refused(firm: Firm) -> None:
    gallons = replace(BAG, content_unit="gal")

    with pytest.raises(CannotLoadCatalogue, match="gives lb, but thinset is counted in gal"):
        load_catalogue(firm=firm, materials=[gallons], rules=[BED])


def test_a_new_price_is_kept_with_an_audit_line(loaded: Firm, owner: User) -> None:
    row = change_price(firm=loaded, code="thinset", price=Decimal("26.10"), priced_on=TODAY, by=owner, at=AT)

    line = AuditLine.objects.get()
    assert (row.price, line.action, line.subject) == (Decimal("26.10"), "change price", "material thinset")
    assert line.detail == {"price": ["24.80", "26.10"], "priced_on": "2026-11-02"}


def test_a_price_can_become_unknown(loaded: Firm, owner: User) -> None:
    row = change_price(firm=loaded, code="thinset", price=None, priced_on=TODAY, by=owner, at=AT)

    assert (row.price, row.priced_on) == (None, None)


@pytest.mark.parametrize(
    ("price", "day", "field"),
    [
        ("-1", TODAY, "price"),
        ("NaN", TODAY, "price"),
        ("1.005", TODAY, "price"),
        ("123456789.00", TODAY, "price"),
        ("26", TODAY + timedelta(days=2), "priced_on"),
        ("24.80", TODAY, "price"),
    ],
)
def test_a_price_that_cannot_be_is_refused_and_nothing_saved(
    loaded: Firm, owner: User, price: str, day: date, field: str
) -> None:
    with pytest.raises(CannotChangePrice) as refused:
        change_price(firm=loaded, code="thinset", price=Decimal(price), priced_on=day, by=owner, at=AT)

    assert [problem.field for problem in refused.value.problems] == [field]
    assert MaterialRow.objects.get().price == Decimal("24.80")
    assert not AuditLine.objects.exists()


def test_a_material_is_added_and_a_second_of_its_code_refused(firm: Firm, owner: User) -> None:
    add_material(firm=firm, material=BAG, by=owner, at=AT)

    with pytest.raises(CannotAddMaterial, match="is on the list already"):
        add_material(firm=firm, material=replace(BAG, name="Other"), by=owner, at=AT)

    assert AuditLine.objects.get().action == "add material"


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"pack_size": Decimal(0)}, "pack_size"),
        ({"name": ""}, "name"),
        ({"code": "Thin set"}, "code"),
        ({"supplier": "x" * 61}, "supplier"),
        ({"category": Category.LABOUR}, "category"),
    ],
)
def test_a_material_that_cannot_be_is_refused(
    firm: Firm, owner: User, changed: Mapping[str, object], field: str
) -> None:
    with pytest.raises(CannotAddMaterial) as refused:
        add_material(firm=firm, material=replace(BAG, **changed), by=owner, at=AT)  # type: ignore[arg-type]

    assert [problem.field for problem in refused.value.problems] == [field]
    assert not MaterialRow.objects.exists()


def test_a_changed_pack_and_price_are_kept_together(loaded: Firm, owner: User) -> None:
    smaller = replace(BAG, pack_name="25 lb bag", pack_size=Decimal(25), price=Decimal("14.90"))

    change_material(firm=loaded, material=smaller, by=owner, at=AT)

    line = AuditLine.objects.get()
    assert get_catalogue(loaded).materials["thinset"] == smaller
    assert line.detail["pack_name"] == ["50 lb bag", "25 lb bag"]
    assert line.detail["price"] == ["24.80", "14.90"]


def test_a_unit_that_a_rule_relies_on_cannot_change(loaded: Firm, owner: User) -> None:
    with pytest.raises(CannotChangeMaterial, match="content_unit: tile-floor uses thinset"):
        change_material(firm=loaded, material=replace(BAG, content_unit="gal"), by=owner, at=AT)

    assert get_catalogue(loaded).materials["thinset"] == BAG


def test_saving_without_a_change_is_refused(loaded: Firm, owner: User) -> None:
    with pytest.raises(CannotChangeMaterial, match="Nothing is different"):
        change_material(firm=loaded, material=BAG, by=owner, at=AT)


def test_prices_put_in_are_listed_newest_first(loaded: Firm, owner: User) -> None:
    for day, price in enumerate(("25.00", "26.00")):
        at = AT + timedelta(days=day)
        change_price(firm=loaded, code="thinset", price=Decimal(price), priced_on=TODAY, by=owner, at=at)

    changes = list_price_changes(MaterialRow.objects.get())

    assert [(change.before, change.after) for change in changes] == [("25.00", "26.00"), ("24.80", "25.00")]


@pytest.mark.parametrize(
    ("asked", "found"),
    [
        ({"search": "mortar"}, ["thinset"]),
        ({"search": "MORTAR thin"}, ["thinset"]),
        ({"category": "permit"}, ["permit-a"]),
        ({"only_missing": True}, ["permit-a"]),
        ({"search": "marble"}, []),
    ],
)
def test_materials_are_found_by_word_category_and_missing_price(
    firm: Firm, asked: dict[str, object], found: list[str]
) -> None:
    permit = Material("permit-a", "Permit", Category.PERMIT, "each", "permit", Decimal(1), None)
    load_catalogue(firm=firm, materials=[BAG, permit], rules=[])

    listed = list_materials(firm, **asked)  # type: ignore[arg-type]

    assert [line.row.code for line in listed] == found
