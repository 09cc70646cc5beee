"""A whole quote worked out with paper and pencil, then looked up wherever the program shows it.

The room, the rate book and the prices are those of `tests/hall_bath.py`. No figure below was taken from the
program: the arithmetic stands beside each, in feet, hours and dollars.
"""

import re
from decimal import Decimal

import pytest
from django.test import Client as Browser

from quoting.offer.models import Quote
from quoting.offer.paper import quote_document
from quoting.offer.services import send_quote
from tests.hall_bath import OPTION, ROOM
from tests.hall_firm import LATER, make_hall_firm, make_hall_quote
from tests.reading import page_rows, page_text, pdf_text, plain_numbers

pytestmark = [pytest.mark.django_db, pytest.mark.slow]

# Walls A (5') and C, B (8') and D; ceiling 8'. A tub 5' × 2.5' with a rim of 1' stands along A, in an alcove.
# Its tile goes from the rim to 7': 6' high on 2.5' of D, 5' of A and 2.5' of B.
QUANTITIES = {
    "floor_area": "40.00",  # 5 × 8
    "tiled_floor_area": "27.50",  # 40 − 5 × 2.5
    "shower_floor_area": "0.00",
    "ceiling_area": "40.00",
    "perimeter": "26.00",  # 2 × (5 + 8)
    "wall_area": "187.33",  # 26 × 8 − door 2.5 × 6.6667 − window 2 × 2 = 208 − 16.6667 − 4
    "wet_wall_area": "54.00",  # (2.5 + 5 + 2.5) × 6 − window 4 − niche mouth 1 × 2
    "wainscot_area": "0.00",
    "tiled_wall_area": "54.00",
    "paint_wall_area": "121.33",  # 187.3333 − (60 − 4) − 10 × 1 behind the tub
    "base_length": "11.00",  # 26 − door 2.5 − tub 10 − vanity 2.5
    "membrane_area": "57.50",  # 54 + niche 3.5
    "board_seam_length": "10.00",  # one level seam at 3' on 2.5 + 5 + 2.5; no wall is over 5' long
    "change_of_plane_length": "22.00",  # two corners of 6 + 10 along the rim
    "curb_length": "0.00",
    "tub_edge_length": "5.00",
    "tile_edge_length": "22.00",  # two ends of 6 + 10 along the top, below the ceiling
    "niche_count": "1.00",
    "niche_perimeter": "6.00",  # 2 × (1 + 2)
    "niche_face_area": "3.50",  # 1 × 2 + 2 × (1 + 2) × 0.25
    "bench_area": "0.00",
    "toilet_count": "1.00",
    "vanity_count": "1.00",
    "vanity_length": "2.50",
    "basin_count": "1.00",
    "tub_count": "1.00",
    "shower_count": "0.00",
    "light_count": "2.00",
    "fan_count": "1.00",
    "mirror_count": "1.00",
    "accessory_count": "4.00",
    "door_count": "1.00",
    "window_count": "1.00",
    "opening_casing_length": "23.83",  # door 2.5 + 2 × 6.6667; window 2 × (2 + 2)
    "room_count": "1.00",
    "storeys_to_carry": "1.00",
}
# 40 sq ft is under 45; people live there; one flight of stairs; ticked by hand; 1972 is before 1978 and 1981,
# not before 1960.
CONDITIONS = {"small_room", "occupied", "upper_floor", "out_of_plumb", "before_1978", "before_1981"}

# set-up + quantity ÷ rate × conditions; half a hundredth goes up
HOURS = {
    "take-out-tub": "2.50",  # 0.5 + 1 ÷ 0.5
    "set-valve": "4.00",  # 1 ÷ 0.25, a plumber's
    "hang-backer": "3.13",  # 0.25 + 57.5 ÷ 20 = 3.125
    "tile-wall": "9.91",  # 1 + 54 ÷ 8 × 1.1 × 1.2 = 1 + 8.91
    "tile-floor": "3.25",  # 0.5 + 27.5 ÷ 11 × 1.1
    "run-base": "0.75",  # 0.25 + 11 ÷ 22
    "paint-walls": "1.71",  # 0.5 + 121.33 ÷ 100 = 1.7133
    "clean": "2.50",  # 1 ÷ 0.5 × 1.25
}
CREW_HOURS, PLUMBER_HOURS = "23.75", "4.00"

# code: needed, packs, left over, cost
PURCHASES = {
    "valve": ("1.00", 1, "0.00", "150.00"),
    "permit": ("1.00", 1, "0.00", "120.00"),
    "backer": ("4.22", 5, "0.78", "100.00"),  # 57.5 ÷ 15 × 1.1 = 4.2167 sheets → 5 × 20
    "thinset": ("40.75", 2, "9.25", "60.00"),  # 54 ÷ 2 + 27.5 ÷ 2 lb → 2 bags of 25 × 30, once for both
    "wall-tile": ("59.40", 6, "0.60", "240.00"),  # 54 × 1.1 → 6 × 40
    "floor-tile": ("30.25", 4, "9.75", "200.00"),  # 27.5 × 1.1 → 4 × 50
    "base": ("12.10", 2, "3.90", "24.00"),  # 11 × 1.1 → 2 of 8' × 12
    "paint": ("0.61", 1, "0.39", "45.00"),  # 121.33 × 2 ÷ 400 = 0.6067 gal
    "dumpster": ("1.00", 1, "0.00", "300.00"),
}

# Labour hour 50.00; a plumber's 100.00. The two bags of mortar, 60.00, are split 27 : 13.75:
# 39.7546 and 20.2454, cut to 39.75 and 20.24; the cent that is left goes to the larger rest, the floor's.
COSTS = {
    "take-out-tub": {"labour": "125.00"},
    "set-valve": {"subcontract": "400.00", "material": "150.00"},
    "permit": {"permit": "120.00"},
    "hang-backer": {"labour": "156.50", "material": "100.00"},
    "tile-wall": {"labour": "495.50", "material": "39.75", "allowance": "240.00"},
    "tile-floor": {"labour": "162.50", "material": "20.25", "allowance": "200.00"},
    "run-base": {"labour": "37.50", "material": "24.00"},
    "paint-walls": {"labour": "85.50", "material": "45.00"},
    "dumpster": {"disposal": "300.00"},
    "clean": {"labour": "125.00"},
}

# labour × 1.25 overhead × 1.20 contingency ÷ 0.75 (25 % margin) = × 2; material × 1.08 tax × 1.25 = × 1.35;
# subcontract × 1.15; disposal × 1.05 × 1.20 = × 1.26; permit × 1; allowance × 1.10
AMOUNTS = {
    "take-out-tub": "250.00",
    "set-valve": "662.50",  # 460 + 202.50
    "permit": "120.00",
    "hang-backer": "448.00",  # 313 + 135
    "tile-wall": "1308.66",  # 991 + 53.6625 → 53.66 + 264
    "tile-floor": "572.34",  # 325 + 27.3375 → 27.34 + 220
    "run-base": "107.40",  # 75 + 32.40
    "paint-walls": "231.75",  # 171 + 60.75
    "dumpster": "378.00",
    "clean": "250.00",
}
PHASES = {
    "Demolition": "250.00",
    "Rough plumbing and wiring": "782.50",
    "Tile backer and wall board": "448.00",
    "Tile": "1881.00",
    "Trim, patch and paint": "339.15",
    "Cleaning and haul-away": "628.00",
}

# The lines come to 4,328.65; 3 % of it is 129.8595. The discount is split over the kinds by price, cut to the
# cent: 71.25 labour, 15.34 material, 13.80, 11.34 disposal, 3.60, 14.52 allowance. One cent is left, for the
# largest rest: material's, 0.96. Sales tax: (511.65 − 15.35) + (484 − 14.52) = 965.78, × 6 % = 57.9468. Levy:
# 378 − 11.34 = 366.66, × 2.5 % = 9.1665. Payments: 426.591, 1706.364, 2132.955; the cent goes to the last.
DISCOUNT, SUBTOTAL, TOTAL = "-129.86", "4198.79", "4265.91"
TAXES = {"Sales tax": ("965.78", "57.95"), "Disposal levy": ("366.66", "9.17")}
PAYMENTS = {"On signing": "426.59", "Start of work": "1706.36", "At the end": "2132.96"}
# 1187.50 + 296.88 + 296.88 labour, 379 + 30.32 material, 400, 300 + 15 disposal, 120, 440
COST, MARGIN, MARGIN_PERCENT = "3465.58", "733.21", "17.46"

# 27.5 ÷ 11 + 0.5 = 3 h × 50 × 2 = 300; 3 packs × 100 × 1.35 = 405; 200 × 1.35 = 270; 6 % of 675 = 40.50
OPTION_PRICE = {"name": OPTION, "amount": "975.00", "tax": "40.50", "total": "1015.50"}
# 10 sq ft: 2 h × 50 × 2 = 200; 10 ÷ 32 of a sheet at 48 is 15, × 1.35 = 20.25; ÷ 10 = 22.025
UNIT_PRICE = {"description": "Mend the subfloor", "unit": "sq ft", "price": "22.03"}


@pytest.fixture
def quote() -> Quote:
    """The room's quote with a discount of 3 %, a draft."""
    return make_hall_quote(*make_hall_firm(), percent="3")


def lines_of(quote: Quote) -> dict[str, dict]:
    """The firm's lines, by the code of their task or item."""
    return {line["code"]: line for line in quote.figures["firm_view"]["lines"]}


def costs_of(line: dict) -> dict[str, str]:
    """A line's direct costs by kind."""
    return {cost["category"]: cost["amount"] for cost in line["costs"]}


def row_of(answer, name: str) -> str:
    """The row of the page's tables that begins with a name."""
    found = [row for row in page_rows(answer) if re.match(rf"{re.escape(name)}( |$)", row)]
    assert found, name
    return found[-1]


def money(amount: str) -> str:
    """An amount as pages and papers show it."""
    return f"{Decimal(amount):,.2f}".replace("-", "−")


def test_every_quantity_of_the_room_is_the_measured_one(quote):
    room = quote.figures["rooms"][0]

    assert {row["name"]: row["value"] for row in room["quantities"]} == QUANTITIES
    assert {condition["name"] for condition in room["conditions"]} == CONDITIONS


def test_every_line_has_the_hours_costs_and_amount_of_the_paper(quote):
    lines = lines_of(quote)

    assert {code: line["hours"]["hours"] for code, line in lines.items() if line["hours"]} == HOURS
    assert {code: costs_of(line) for code, line in lines.items()} == COSTS
    assert {code: line["amount"] for code, line in lines.items()} == AMOUNTS
    assert quote.figures["firm_view"]["hours"] == CREW_HOURS
    assert quote.figures["firm_view"]["licensed_hours"] == PLUMBER_HOURS


def test_packs_are_bought_once_for_the_whole_job(quote):
    bought = {
        row["code"]: (row["amount"], row["packs"], row["leftover"], row["cost"])
        for row in quote.figures["firm_view"]["materials"]
    }

    assert bought == PURCHASES


def test_discount_taxes_total_payments_and_margin_are_those_of_the_paper(quote):
    view, firm_view = quote.figures["client_view"], quote.figures["firm_view"]

    assert (view["discount"], view["subtotal"], view["total"]) == (DISCOUNT, SUBTOTAL, TOTAL)
    assert {tax["name"]: (tax["base"], tax["amount"]) for tax in view["taxes"]} == TAXES
    assert {part["name"]: part["amount"] for part in view["milestones"]} == PAYMENTS
    assert {phase["label"]: phase["amount"] for phase in view["phases"]} == PHASES
    assert (firm_view["cost"], firm_view["margin"]) == (COST, MARGIN)
    assert firm_view["margin_percent"] == MARGIN_PERCENT
    assert quote.total == Decimal(TOTAL)


def test_option_and_unit_price_stand_beside_the_total(quote):
    view = quote.figures["client_view"]

    assert [{name: option[name] for name in OPTION_PRICE} for option in view["options"]] == [OPTION_PRICE]
    assert view["unit_prices"] == [UNIT_PRICE]


def test_the_program_reads_the_same_figures(quote):
    document = quote_document(quote)
    by_phase: dict[str, Decimal] = {}
    for line in document["lines"]:
        by_phase[line["phase"]] = by_phase.get(line["phase"], Decimal(0)) + Decimal(line["amount"])

    assert {name: str(amount) for name, amount in by_phase.items()} == PHASES
    assert (document["discount"], document["subtotal"], document["total"]) == (DISCOUNT, SUBTOTAL, TOTAL)
    assert {tax["name"]: (tax["base"], tax["amount"]) for tax in document["taxes"]} == TAXES
    assert {part["name"]: part["amount"] for part in document["milestones"]} == PAYMENTS
    assert {row["name"]: row["value"] for row in document["rooms"][0]["quantities"]} == QUANTITIES


def test_the_api_answers_with_the_same_document(quote):
    browser = Browser()
    browser.force_login(quote.created_by)

    answer = browser.get(f"/api/quotes/{quote.pk}").json()

    assert answer["document"] == quote_document(Quote.objects.get(pk=quote.pk))
    assert Decimal(answer["total"]) == Decimal(TOTAL)


def test_the_pages_show_the_same_figures(quote):
    browser = Browser()
    browser.force_login(quote.created_by)

    answers = {name: browser.get(f"/quotes/{quote.pk}/{name}") for name in ("", "rooms/", "buying-list/")}

    for code, line in lines_of(quote).items():
        row = row_of(answers[""], line["name"])
        shown = [line["quantity"], line["unit"], HOURS.get(code, ""), AMOUNTS[code]]
        assert [part for part in shown if plain_numbers(part) not in row] == [], code
    for name, amount in {**PHASES, "Subtotal": SUBTOTAL, "Total": TOTAL, "Discount": DISCOUNT}.items():
        rows = [row for row in page_rows(answers[""]) if row.startswith(f"{name} ")]
        assert any(row.endswith(f" {plain_numbers(amount)}") for row in rows), (name, rows)
    text = plain_numbers(page_text(answers[""]))
    for amount in (COST, MARGIN, MARGIN_PERCENT, *PAYMENTS.values(), UNIT_PRICE["price"]):
        assert f" {plain_numbers(amount)}" in text, amount
    rooms = " | ".join(page_rows(answers["rooms/"]))
    assert [
        name for name, value in QUANTITIES.items() if f"{name} {plain_numbers(value)} " not in rooms
    ] == []
    for row in quote.figures["firm_view"]["materials"]:
        _, packs, left_over, cost = PURCHASES[row["code"]]
        shown = [f"{packs} × {row['pack_name']}", left_over, cost]
        found = row_of(answers["buying-list/"], row["name"])
        assert [part for part in shown if plain_numbers(part) not in found] == [], row["code"]


def test_the_paper_shows_the_client_the_same_figures_and_no_cost(quote):
    sent = send_quote(firm=quote.firm, quote_id=quote.pk, at=LATER, by=quote.created_by)

    text = pdf_text(bytes(sent.paper.pdf))

    shown = [*AMOUNTS.values(), *PHASES.values(), SUBTOTAL, TOTAL, *PAYMENTS.values(), DISCOUNT]
    shown += [amount for pair in TAXES.values() for amount in pair]
    shown += [OPTION_PRICE["amount"], OPTION_PRICE["tax"], OPTION_PRICE["total"], UNIT_PRICE["price"]]
    assert [amount for amount in shown if money(amount).lstrip("−") not in text] == []
    assert f"${money(TOTAL)}" in text
    assert f"{ROOM}" in text
    assert "Ada Brook" in text
    assert [amount for amount in (COST, MARGIN, MARGIN_PERCENT, CREW_HOURS) if money(amount) in text] == []
