"""An estimate as text: what a client may see, and what only the firm sees, with the why of each figure."""

import json
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from labour.engine.scope import LineKind, ScopeLine
from labour.engine.vocabulary import OPENED, QUANTITIES
from quoting.engine.client_view import client_view_of
from quoting.engine.estimate import Books, Changes, RoomScope, estimate
from quoting.engine.figures import figures_of
from quoting.engine.firm_view import firm_view_of
from quoting.engine.pricing.values import Category, Discount
from tests.hall_bath import MATERIALS, OPTION, ROOM, TEMPLATE, make_books, make_scope

FIRMS_WORDS = ("hour", "cost", "margin", "markup", "overhead", "contingency", "direct", "wage", "why", "pack")
CLIENTS_KEYS = {
    "rooms", "phases", "discount", "subtotal", "taxes", "total", "options", "allowances", "unit_prices",
    "exclusions", "cautions", "general_caution",
}  # fmt: skip


def views(books: Books | None = None, percent: str = "3") -> tuple[dict[str, Any], dict[str, Any]]:
    """What the client sees and what the firm sees of the hall bath, through JSON and back."""
    priced = estimate([make_scope()], books or make_books(), Changes(), Discount(percent=Decimal(percent)))
    shown = client_view_of(priced, year_built=1972), firm_view_of(priced)
    return json.loads(json.dumps(shown[0])), json.loads(json.dumps(shown[1]))


def leaves(value: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    """Every plain value inside, with the names that lead to it."""
    if isinstance(value, dict):
        for name, inner in value.items():
            yield from leaves(inner, f"{path}.{name}")
    elif isinstance(value, list):
        for inner in value:
            yield from leaves(inner, path)
    else:
        yield path, value


def whys(value: Any, path: str = "") -> Iterator[tuple[str, dict[str, str]]]:
    """Every why inside, with the names that lead to it."""
    for name, inner in value.items() if isinstance(value, dict) else enumerate(value):
        if isinstance(inner, dict) and "worked" in inner:
            yield f"{path}.{name}", inner
        if isinstance(inner, dict | list):
            yield from whys(inner, f"{path}.{name}")


def total_of(amounts: Any) -> Decimal:
    """The sum of amounts given as text."""
    return sum(map(Decimal, amounts), Decimal(0))


def test_no_name_in_the_clients_view_speaks_of_hours_costs_or_margins():
    view, _ = views()

    names = {path.lower() for path, _ in leaves(view)}
    assert set(view) == CLIENTS_KEYS
    assert [name for name in names if any(word in name for word in FIRMS_WORDS)] == []


def test_no_figure_of_the_firm_stands_in_the_clients_view():
    view, firm_view = views()

    secret = {firm_view[name] for name in ("hours", "licensed_hours", "cost", "margin", "margin_percent")}
    secret |= {line["hours"][name] for line in firm_view["lines"] if line["hours"]
               for name in ("hours", "low", "high")}  # fmt: skip
    secret |= {cost["amount"] for line in firm_view["lines"] for cost in line["costs"]
               if cost["category"] not in ("permit", "allowance")}  # fmt: skip
    # A permit is sold at its cost, and an allowance says the sum that is set aside.
    assert secret & {value for _, value in leaves(view)} == set()
    assert len(secret) > 15


def test_no_text_of_the_clients_view_tells_how_a_price_came_about():
    view, _ = views()

    texts = " ".join(str(value) for _, value in leaves(view))
    assert [sign for sign in ("÷", "×", "%", " h ", "50.00 h") if sign in texts] == []


def test_phases_stand_in_the_order_of_the_work_and_sum_up_their_lines():
    view, _ = views()

    assert [phase["phase"] for phase in view["phases"]] == [
        "demolition", "rough-in", "board", "tile", "finish", "clean-up",
    ]  # fmt: skip
    for phase in view["phases"]:
        assert total_of(line["amount"] for line in phase["lines"]) == Decimal(phase["amount"])


def test_amounts_and_discount_make_the_subtotal_and_taxes_the_total():
    view, _ = views()

    gross = total_of(phase["amount"] for phase in view["phases"])
    assert gross + Decimal(view["discount"]) == Decimal(view["subtotal"])
    assert Decimal(view["subtotal"]) + total_of(tax["amount"] for tax in view["taxes"]) == Decimal(
        view["total"]
    )
    assert view["total"] == "4265.91"


def test_an_option_shows_its_price_its_tax_and_its_lines_and_is_not_in_the_total():
    view, _ = views()

    assert view["options"] == [
        {
            "name": OPTION, "amount": "975.00", "tax": "40.50", "total": "1015.50", "missing": False,
            "lines": ["Lay a heating mat", "Floor thermostat"],
            "kind": "option", "replaces": [], "excludes": [], "days": 1,
        }
    ]  # fmt: skip
    assert "Lay a heating mat" not in json.dumps(view["phases"])


def test_lines_that_read_alike_in_a_room_are_one_line_to_the_client():
    books = make_books()
    second = replace(books.tasks["tile-floor"], code="tile-hearth", client_text="Tile the walls")
    books = replace(books, tasks={**books.tasks, "tile-hearth": second})
    template = replace(
        TEMPLATE, lines=(*TEMPLATE.lines, ScopeLine("", LineKind.TASK, "tile-hearth", "sq_ft(6)"))
    )
    priced = estimate([RoomScope(make_scope().figures, template)], books, Changes(), Discount())

    view, firm_view = client_view_of(priced, year_built=None), firm_view_of(priced)

    tile = next(phase for phase in view["phases"] if phase["phase"] == "tile")
    walls = [line for line in tile["lines"] if line["description"] == "Tile the walls"]
    parts = [line for line in firm_view["lines"] if line["description"] == "Tile the walls"]
    assert [line["quantity"] for line in walls] == ["60.00"]
    assert len(parts) == 2
    assert total_of(line["amount"] for line in parts) == Decimal(walls[0]["amount"])


@pytest.mark.parametrize(("year", "told"), [(1972, True), (None, True), (1985, False)])
def test_lead_is_told_of_where_the_house_may_be_old(year, told):
    books = make_books()
    painted = replace(books.tasks["take-out-tub"], cautions=("lead",))
    priced = estimate(
        [make_scope()], replace(books, tasks={**books.tasks, "take-out-tub": painted}), Changes(), Discount()
    )

    view = client_view_of(priced, year_built=year)

    assert ("Old paint may hold lead" in [caution["title"] for caution in view["cautions"]]) is told
    assert view["general_caution"].startswith("Local codes and licensed practice decide")


def test_every_figure_of_the_firm_says_why():
    _, firm_view = views()

    found = dict(whys(firm_view))
    assert len(found) > 60
    assert [path for path, why in found.items() if not (why["formula"] and why["worked"])] == []


def test_every_line_traces_its_quantity_hours_costs_and_prices():
    _, firm_view = views()

    for line in firm_view["lines"]:
        assert line["quantity_why"]["worked"]
        assert line["quantity_why"]["source"].startswith("tub-surround line ")
        if line["hours"]:
            assert line["hours"]["why"]["worked"].endswith(f"= {line['hours']['hours']} h")
        for cost in line["costs"]:
            assert cost["amount"] in cost["why"]["worked"]
            assert cost["why"]["source"]
        for part in line["parts"]:
            assert part["why"]["worked"].replace(",", "").endswith(f"= {part['price']}")
            assert part["why"]["source"] == f"price settings, {part['category']}"
        assert total_of(part["price"] for part in line["parts"]) == Decimal(line["amount"])


def test_the_buying_list_traces_packs_to_the_lines_that_use_them():
    _, firm_view = views()

    thinset = next(row for row in firm_view["materials"] if row["code"] == "thinset")
    assert [use["line"] for use in thinset["uses"]] == [f"{ROOM}/tile-wall", f"{ROOM}/tile-floor"]
    assert [use["why"]["worked"] for use in thinset["uses"]] == ["54 × 1 ÷ 2 = 27", "27.5 × 1 ÷ 2 = 13.75"]
    assert (thinset["packs"], thinset["cost"], thinset["priced_on"]) == (2, "60.00", "2026-10-01")
    assert thinset["supplier"] == "Quay Supply"


def test_what_is_bought_costs_what_the_lines_carry_of_it():
    _, firm_view = views()

    carried = total_of(
        cost["amount"] for line in firm_view["lines"] for cost in line["costs"]
        if cost["why"]["formula"].startswith("share of the packs")
    )  # fmt: skip
    assert carried == total_of(row["cost"] for row in firm_view["materials"]) == Decimal("1239.00")


def test_kinds_of_cost_and_margin_make_up_the_subtotal():
    view, firm_view = views()

    kinds = firm_view["categories"]
    names = ("direct", "purchase_tax", "overhead", "contingency")
    assert [kind["category"] for kind in kinds] == [
        category for category in Category if category is not Category.EQUIPMENT
    ]
    assert total_of(kind[name] for kind in kinds for name in names) == Decimal(firm_view["cost"])
    assert Decimal(firm_view["cost"]) + Decimal(firm_view["margin"]) == Decimal(view["subtotal"])


def test_a_missing_price_is_named_marked_and_never_taken_for_nothing():
    material = next(material for material in MATERIALS if material.code == "wall-tile")
    view, firm_view = views(make_books(wall_tile=replace(material, price=None)))

    line = next(line for line in firm_view["lines"] if line["code"] == "tile-wall")
    assert firm_view["missing_prices"] == ["Wall tile of your choice"]
    assert [cost["amount"] for cost in line["costs"]] == ["495.50", "39.75", None]
    assert line["missing"] is True
    assert "Wall tile of your choice" not in [row["description"] for row in view["allowances"]]


def test_an_option_with_a_missing_price_says_so():
    mat = next(material for material in MATERIALS if material.code == "heat-mat")
    view, _ = views(make_books(heat_mat=replace(mat, price=None)))

    assert [option["missing"] for option in view["options"]] == [True]


@pytest.mark.parametrize(
    ("metric", "floor", "base"), [(False, "40.00 sq ft", "11.00 lin ft"), (True, "3.72 m²", "3.35 m")]
)
def test_rooms_are_shown_in_the_units_of_the_firm(metric, floor, base):
    priced = estimate([make_scope()], make_books(), Changes(), Discount())

    figures = figures_of(priced, year_built=None, metric=metric)

    shown = {row["name"]: f"{row['value']} {row['unit']}" for row in figures["rooms"][0]["quantities"]}
    assert list(shown) == [quantity.name for quantity in QUANTITIES if quantity.name not in OPENED]
    assert (shown["floor_area"], shown["base_length"]) == (floor, base)
    assert all(row["why"]["formula"] for row in figures["rooms"][0]["quantities"])
    assert figures["rooms"][0]["facts"]["wall_tile"] == "medium"
