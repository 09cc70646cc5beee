"""A made-up quote of any length, as the quote paper is given it. Sums are added up, not typed."""

from datetime import UTC, datetime
from decimal import ROUND_HALF_UP, Decimal
from itertools import cycle, islice
from typing import Any

AT = datetime(2026, 11, 2, 9, 0, tzinfo=UTC)
ROOMS = ("Main bathroom", "Hall bathroom")

# phase, label, and its work: description, quantity, unit, amount of one line
WORK: tuple[tuple[str, str, tuple[tuple[str, str, str, str], ...]], ...] = (
    ("protection", "Protection and dust control", (
        ("Cover floors on the way from the door to the room", "64.00", "sq_ft", "118.40"),
        ("Hang a dust barrier with a zipped opening", "1.00", "each", "96.00"),
    )),
    ("demolition", "Demolition", (
        ("Take out the toilet and cap the drain", "1.00", "each", "84.00"),
        ("Take out the bathtub and its surround", "1.00", "each", "412.50"),
        ("Remove floor tile with its underlayment", "41.25", "sq_ft", "371.25"),
    )),
    ("rough-in", "Rough plumbing and wiring", (
        ("Set the shower valve, by a licensed plumber", "1.00", "each", "486.00"),
        ("Wire the fan on its own switch, by a licensed electrician", "1.00", "each", "338.00"),
    )),
    ("board", "Backer board and drywall", (
        ("Cement board on the walls of the shower", "96.50", "sq_ft", "579.00"),
        ("Tape and coat the remaining walls", "142.00", "sq_ft", "497.00"),
    )),
    ("waterproofing", "Waterproofing", (
        ("Two coats of membrane over the shower, turned up behind the base", "118.75", "sq_ft", "653.13"),
        ("Flood test of the shower floor, 24 hours", "1.00", "each", "145.00"),
    )),
    ("tile", "Tile", (
        ("Set 12 × 24 in porcelain on the shower walls, offset by a third", "96.50", "sq_ft", "2123.00"),
        ("Set 2 in mosaic on the shower floor to the slope", "12.25", "sq_ft", "441.00"),
        ("Set porcelain on the room floor", "41.25", "sq_ft", "742.50"),
    )),
    ("grout", "Grout and sealant", (
        ("Grout walls and floor, 1/8 in joints", "150.00", "sq_ft", "525.00"),
        ("Flexible sealant wherever two planes meet", "46.50", "lin_ft", "232.50"),
    )),
    ("fixtures", "Fixtures", (
        ("Set the vanity, top and faucet", "1.00", "each", "684.00"),
        ("Set the toilet on a new flange and seal", "1.00", "each", "265.00"),
        ("Fit the shower glass, measured after tiling", "1.00", "each", "1890.00"),
    )),
    ("clean-up", "Clean-up and walk-through", (
        ("Clean the rooms and take the debris away", "1.00", "each", "310.00"),
    )),
)  # fmt: skip

EXCLUSIONS = (
    "Repair of rot, mould or damage found once walls and floors are open",
    "Moving of drains, vents or joists that is not listed in the work",
    "Painting outside the rooms named here",
    "Asbestos removal; old flooring is tested before it is touched",
    "Furniture, towels, mirrors and accessories that are not listed",
    "Permit fees beyond those listed",
)
CAUTIONS = (
    ("Silica dust", "Tile and board are cut wet or under suction, and the crew wears respirators."),
    ("Lead paint", "The house was built before 1978: painted surfaces are handled as if they held lead."),
    ("Water and power", "Licensed trades shut off and test the lines that are touched."),
)
GENERAL = (
    "Local codes and the judgement of licensed trades decide how this work is done. This paper does not "
    "say that any part of it meets a code; permits and inspections do."
)
TERMS = "\n\n".join((
    "The price holds for the work described in this paper. Whatever is added or left out is agreed in "
    "writing, with its price and its effect on the finish date, before it is done.",
    "Payments fall due as set out under Payments. Work may pause while a payment is more than ten days late.",
    "Curing times of mortar, membrane and grout are kept even where the crew could work on. They are part "
    "of the schedule and not a delay.",
    "Measurements were taken by us. If a room turns out to differ from them by our mistake, the price stays.",
    "The client keeps the way to the rooms clear and provides water and power. Pets stay out of the rooms.",
    "We repair faults of our workmanship that are reported within two years, free of charge. Wear, movement "
    "of the building and products supplied by the client are outside this promise.",
    "Either side may step back before work begins; materials ordered by then are paid for and handed over.",
))  # fmt: skip


def _cents(amount: Decimal) -> Decimal:
    return amount.quantize(Decimal("0.01"), ROUND_HALF_UP)


def sample_phases(lines: int) -> list[dict[str, Any]]:
    """The work of two rooms, again and again until there are enough lines, in the order of the work."""
    deck = [(at, room, line) for room in ROOMS for at, (_, _, work) in enumerate(WORK) for line in work]
    dealt = list(islice(cycle(deck), lines))
    phases = []
    for at, (code, label, _) in enumerate(WORK):
        rows = [
            {"room": room, "description": what, "quantity": quantity, "unit": unit, "amount": amount}
            for where, room, (what, quantity, unit, amount) in dealt
            if where == at
        ]
        amount = sum((Decimal(row["amount"]) for row in rows), Decimal(0))
        phases.append({"phase": code, "label": label, "amount": f"{amount:.2f}", "lines": rows})
    return [phase for phase in phases if phase["lines"]]


def sample_view(lines: int) -> dict[str, Any]:
    """Everything under "view": the sums follow from the lines."""
    phases = sample_phases(lines)
    subtotal = sum((Decimal(phase["amount"]) for phase in phases), Decimal("-350.00"))
    state, city = _cents(subtotal * Decimal("0.0625")), _cents(subtotal * Decimal("0.0125"))
    total = subtotal + state + city
    shares = [_cents(total * share / 100) for share in (30, 30, 30)]
    stages = ("On signing", "When demolition is done", "When the tile is set")
    return {
        "phases": phases,
        "rooms": list(ROOMS),
        "discount": "-350.00",
        "subtotal": f"{subtotal:.2f}",
        "taxes": [
            {"name": "State sales tax", "base": f"{subtotal:.2f}", "rate": "6.25", "amount": f"{state:.2f}"},
            {"name": "City sales tax", "base": f"{subtotal:.2f}", "rate": "1.25", "amount": f"{city:.2f}"},
        ],
        "total": f"{total:.2f}",
        "milestones": [
            *(
                {"name": stage, "percent": "30", "amount": f"{share:.2f}"}
                for stage, share in zip(stages, shares, strict=True)
            ),
            {"name": "After the walk-through", "percent": "10", "amount": f"{total - sum(shares):.2f}"},
        ],
        "options": [
            {"name": "Heated floor", "amount": "1480.00", "tax": "111.00", "total": "1591.00",
             "lines": ["Heating mat under the floor tile", "Thermostat by a licensed electrician"]},
            {"name": "Niche in the shower wall", "amount": "420.00", "tax": "31.50", "total": "451.50",
             "lines": ["Framed, waterproofed and tiled, 12 × 24 in"]},
        ],
        "allowances": [
            {"description": "Wall tile", "quantity": "110.00", "unit": "sq_ft", "amount": "935.00"},
            {"description": "Vanity with top", "quantity": "2.00", "unit": "each", "amount": "1640.00"},
        ],
        "unit_prices": [
            {"description": "Replace rotten subfloor", "unit": "sq_ft", "price": "21.50"},
            {"description": "Fasten a new joist beside a damaged one", "unit": "lin_ft", "price": "34.00"},
        ],
        "exclusions": list(EXCLUSIONS),
        "cautions": [{"title": title, "text": text} for title, text in CAUTIONS],
        "general_caution": GENERAL,
    }  # fmt: skip


def sample_context(lines: int = 40, *, draft: bool = False) -> dict[str, Any]:
    """The whole context of the quote paper, for an invented client of an invented firm."""
    return {
        "firm": {
            "name": "Harbor Lane Baths", "address": "14 Harbor Lane\nPort Ellery, MA 01999",
            "phone": "(555) 555-0142", "email": "office@example.com",
            "licence_text": "Home improvement registration 000000", "currency": "USD",
            "paper": "letter", "units": "us",
        },
        "client": {
            "name": "Noor and Felix Abernathy-Lindqvist", "address": "208 Quarry Road\nPort Ellery, MA 01999",
            "email": "client@example.com", "phone": "(555) 555-0117",
        },
        "site": {"address": "208 Quarry Road\nPort Ellery, MA 01999"},
        "quote": {
            "number": "Q-0042", "title": "Two bathrooms, stripped and rebuilt", "date": "2026-11-02",
            "valid_until": "2026-12-02", "measured_on": "2026-10-28", "draft": draft,
            "show_line_amounts": True,
        },
        "view": sample_view(lines),
        "terms": TERMS,
        "at": AT,
    }  # fmt: skip
