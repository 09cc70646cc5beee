"""Published check values on what a layout, a film, a bed and a board take. Each row says where it is printed.

"seen": read in the source. "derived": arithmetic here on figures that were read. Common practice has no
source and is marked so. Rows that hold for the plain forms are in test_coverage.py and test_fasteners.py.
"""

from decimal import Decimal
from pathlib import Path

import pytest
from django.conf import settings

from quoting.catalogue.reading import read_catalogue
from quoting.engine.layout.counting import count
from quoting.engine.layout.cutting import lay
from quoting.engine.layout.values import Layout, Setting
from quoting.engine.materials.beds import BOARD_NOTCH, Notch, bed_for, board_bed, notch_for
from quoting.engine.materials.boards import sheet_layout
from quoting.engine.materials.consumption import use_of
from quoting.engine.materials.coverage import MIN_BED, exact, film_gallons, whole_bed
from quoting.engine.materials.films import MEMBRANE_COATS, Coated, Film, film_of, membrane
from quoting.engine.materials.grout import grout_for
from quoting.engine.materials.levelling import Depth, level
from quoting.engine.materials.packs import whole_packs
from quoting.engine.materials.paint import coat_of, paint_for
from quoting.engine.materials.pipe_holes import TRAP_ARM_HOLE, pipe_hole
from quoting.engine.materials.screws import EDGE, STUDS, Spacing
from quoting.engine.materials.values import ConsumptionRule, RuleKind
from tests.quoting.layout_makers import make_rectangle

MM, CM = 1 / 25.4, 1 / 2.54
SQ_FT_PER_M2 = 1 / Decimal("0.09290304")
KG_PER_LB = Decimal("0.45359237")
LITRES_PER_GALLON = Decimal("3.785411784")
MIL_PER_MICRON = 1 / Decimal("25.4")

ROOMS_CM = ((320, 330), (350, 300), (400, 280), (500, 260), (410, 370), (600, 420), (730, 510))


def lay_whole(width: float, height: float, joint: float, *, rows: int = 20) -> Layout:
    """Whole tiles with a joint to each, so that the surface holds the pattern without a rest."""
    surface = make_rectangle(rows * (width + joint), rows * (height + joint))
    return lay(surface, Setting(width, height, joint=joint), (0, 0))


@pytest.mark.parametrize(
    ("film", "area"),
    [
        (Film(Decimal(1)), "1604.17"),  # Q01, Q02, Q04 (seen): film-gauge maker's page "wet film formulae"
        (Film(Decimal(10)), "160.417"),  # Q03 (seen): the same page
        (film_of(Decimal(5), Decimal("0.65")), "208.54"),  # Q05 (seen): 208.52 with 1604 for 1604.17
        (film_of(Decimal("2.8"), Decimal("0.35")), "200.52"),  # Q09 (seen): 2.8 mil dry is 8 mil wet
        (film_of(Decimal("1.5"), Decimal("0.52"), Decimal("0.35")), "194.6"),  # Q14 (derived)
    ],
)
def test_a_gallon_covers_what_is_printed_in_one_coat(film: Film, area: str) -> None:
    assert membrane(Coated(Decimal(area)), [film]).gallons == pytest.approx(Decimal(1), rel=Decimal("0.0005"))


@pytest.mark.parametrize(("microns", "solids", "m2"), [("1", "1", "1000"), ("125", "0.65", "5.2")])
def test_a_litre_covers_what_is_printed(microns: str, solids: str, m2: str) -> None:
    """Q12, Q13 (seen): technical note "Theoretical spreading rate"."""
    film = film_of(Decimal(microns) * MIL_PER_MICRON, Decimal(solids))

    gallons = film_gallons(Decimal(m2) * SQ_FT_PER_M2, film.wet_mils)

    assert gallons * LITRES_PER_GALLON == pytest.approx(Decimal(1), rel=Decimal("0.0005"))


def test_sprayed_enamel_takes_what_the_national_composition_prints() -> None:
    """S22 (seen), S38 (derived): 2 × 40 µm dry at 40.45 % solids; 0.4134 L a m² at 47.8 % transfer."""
    film = film_of(40 * MIL_PER_MICRON, Decimal("0.4045"), Decimal("0.4784"))

    plan = paint_for(SQ_FT_PER_M2, [coat_of("enamel", film)] * 2)

    litres = plan.gallons["enamel"] * LITRES_PER_GALLON
    assert litres == pytest.approx(Decimal("0.4134"), abs=Decimal("0.0002"))


@pytest.mark.parametrize(
    ("tile", "joint", "depth", "litres"),
    [
        (100, 3, 8, "0.459"),  # Q21 (derived): the exact form
        (48, 3, 6, "0.685"),  # Q22 (derived)
    ],
)
def test_grout_of_a_layout_is_the_exact_form(tile: int, joint: int, depth: int, litres: str) -> None:
    layout = lay_whole(tile * MM, tile * MM, joint * MM)

    plan = grout_for([layout], exact(depth * MM), Decimal(100))

    per_m2 = plan.joints * MM**-2 / (layout.surface.outline[2][0] / MM) ** 2 * depth
    assert round(Decimal(per_m2), 3) == Decimal(litres)


@pytest.mark.parametrize(
    ("width", "height", "joint", "depth", "kilograms"),
    [
        (600, 300, 3, 9, 0.216),  # Q16, Q17, Q18: form and 1.6 kg a litre seen, product derived
        (350, 350, 3, 8, 0.219),  # Q19 (derived)
    ],
)
def test_grout_of_a_layout_is_within_3_percent_of_the_thin_joint_form(
    width: int, height: int, joint: int, depth: int, kilograms: float
) -> None:
    layout = lay_whole(width * MM, height * MM, joint * MM)
    density = Decimal("1.6") * 1000 / Decimal("16.018463")

    plan = grout_for([layout], exact(depth * MM), density)

    square_metres = (width + joint) * (height + joint) * 400 / 1e6
    assert float(plan.pounds * KG_PER_LB) / square_metres == pytest.approx(kilograms, rel=0.03)


def test_a_layout_holds_49_23_tiles_of_12_by_24_a_100_sq_ft() -> None:
    """Q23, Q24 (derived): 1/8 in joint; thin-joint grout 0.844 cu in a sq ft at 3/8 in, exact 1.5 % less."""
    layout = lay_whole(24, 12, 0.125)
    square_feet = 20 * 24.125 * 20 * 12.125 / 144

    plan = grout_for([layout], Decimal("0.375"), Decimal(100))

    assert round(len(layout.pieces) / square_feet * 100, 2) == 49.23
    assert float(plan.volume) * 1728 / square_feet == pytest.approx(0.844, rel=0.03)


def test_a_quarter_inch_notch_takes_1_042_cu_ft_a_100_sq_ft() -> None:
    """Q26 (derived), by the pounds of the bed under cement board; common practice that it is this notch."""
    bed = board_bed(Decimal(100), density=Decimal(1))

    assert bed.notch == BOARD_NOTCH
    assert BOARD_NOTCH.words() == "1/4 × 1/4 in square notch"
    assert round(bed.pounds, 3) == Decimal("1.042")


def test_a_6_mm_notch_takes_3_litres_a_m2() -> None:
    """Q28 (derived)."""
    notch = Notch(*[exact(6 * MM)] * 3)

    bed = bed_for(SQ_FT_PER_M2, Decimal(12), Decimal(12), notch=notch, density=Decimal(1))

    assert bed.pounds * Decimal("28.316846592") == pytest.approx(Decimal(3), rel=Decimal("1e-5"))


@pytest.mark.parametrize("printed", ["9.13", "6.85"])
def test_published_mortar_lies_between_the_least_bed_and_the_largest_tiles(printed: str) -> None:
    """Q29, S01 and S02 (seen): kg a m² under a floor of 35 × 35 cm and a wall of 60 × 60 cm, loss included.

    A plausible band: both rows lie in it, and it does not tell the one from the other.
    """
    least = bed_for(SQ_FT_PER_M2, Decimal(2), Decimal(2)).pounds * KG_PER_LB
    most = bed_for(SQ_FT_PER_M2, Decimal(48), Decimal(24)).pounds * KG_PER_LB

    assert least < Decimal(printed) < most


@pytest.mark.parametrize("combed", ["0", "0.0625", "0.09"])
def test_no_bed_is_thinner_than_3_32_in(combed: str) -> None:
    """Q30 (seen): ANSI A108.5 section 2.2.2, 3/32 in (2 mm) after embedding."""
    assert whole_bed(Decimal(combed)) == MIN_BED == Decimal("0.09375")
    assert round(MIN_BED / exact(MM), 1) == Decimal("2.4")


def test_levelling_50_sq_ft_by_a_quarter_inch_on_average() -> None:
    """Q31 (derived): 1.042 cu ft, here from depths of 0 to 1/2 in at the corners."""
    corners = (Depth(0, 0, 0), Depth(120, 0, 0.5), Depth(120, 60, 0.5), Depth(0, 60, 0))

    assert round(level(make_rectangle(120, 60), corners).volume, 3) == Decimal("1.042")


def test_a_wall_of_1080_sq_ft_is_laid_from_34_sheets() -> None:
    """Q32 (seen): public how-to page on drywall, 33.75 taken up to 34; here 135 × 8 ft, seams staggered."""
    plan = sheet_layout(make_rectangle(135 * 12, 96), 96, 48, turned=False)

    assert plan.covered / 144 / 32 == 33.75
    assert plan.sheets == 34


def test_the_whole_house_rule_is_taken_up_once() -> None:
    """Q34 (seen): 864 sq ft of floor × 3.5 = 3,024 sq ft; ÷ 48 = 63 sheets of 4 × 12 ft."""
    rule = ConsumptionRule("board", "sheet", RuleKind.SHEET, {"sheet_area": Decimal(48)})

    assert whole_packs(use_of(rule, 864 * Decimal("3.5"), "house").amount, Decimal(1)) == 63


def test_the_shipped_joint_compound_is_the_published_rule_of_thumb() -> None:
    """Q35 (seen): 12 to 14 lb a 100 sq ft, the same how-to page as Q32."""
    _, rules = read_catalogue(Path(settings.BASE_DIR) / "fixtures" / "materials")
    used = [rule.values["per_unit"] * 100 for rule in rules if rule.material_code == "joint-compound"]

    assert used
    assert all(12 <= pounds <= 14 for pounds in used)


@pytest.mark.parametrize("room", [(12, 12), (10, 8), (15, 12), (8, 5)])
def test_tape_of_laid_out_walls_is_near_the_published_factors(room: tuple[int, int]) -> None:
    """Q36, Q37 (seen): 0.48 and 0.7 ft a sq ft of wall on two pages, nearly half apart: a plausible band.

    Seams of the layout with four corners and the ceiling's angle, without loss.
    """
    long, short = room
    walls = [make_rectangle(12 * side, 96) for side in (long, short, long, short)]

    plan = sheet_layout(walls, 96, 48)

    tape = plan.seams / 12 + 4 * 8 + 2 * (long + short)
    assert 0.48 * 0.7 < tape / (plan.covered / 144) < 0.7


def test_screws_of_a_laid_out_ceiling_bracket_the_measured_use() -> None:
    """Q39 (seen 9.65 a m²), Q41 (memory: 12 in): fewer without edges, more with the edges of every board."""
    ceiling = make_rectangle(720 * CM, 480 * CM)
    without_edges, with_edges = (
        sheet_layout(ceiling, 240 * CM, 120 * CM, spacing=Spacing(12, edge, 16)).fasteners / (7.2 * 4.8)
        for edge in (1000, 12)
    )

    assert without_edges < 9.65 < with_edges


def test_waste_of_laid_out_tile_is_near_what_compositions_hold() -> None:
    """S35 (derived): 5 to 11 % on tile rows. A plausible band for the mean over seven rooms."""
    setting = Setting(35 * CM, 35 * CM, joint=0.3 * CM, edge=0.3 * CM)
    losses = []
    for wide, high in ROOMS_CM:
        counted = count([lay(make_rectangle(wide * CM, high * CM), setting, (0.3 * CM, 0.3 * CM))])
        losses.append(counted.needed * 35 * 35 / (wide * high) - 1)

    assert all(-0.02 < loss < 0.20 for loss in losses)
    assert 0.03 < sum(losses) / len(losses) < 0.12


def test_waste_of_laid_out_board_is_near_what_compositions_hold() -> None:
    """S35, S17 (derived): 8.38 % on ceiling board of 1.2 × 2.4 m. A plausible band: seven rooms, one job."""
    ceilings = [make_rectangle(wide * CM, high * CM) for wide, high in ROOMS_CM]

    plan = sheet_layout(ceilings, 240 * CM, 120 * CM)

    assert 0.0 < plan.sheets * 2.88 / (plan.covered * CM**-2 / 1e4) - 1 < 0.15


def test_board_edges_are_screwed_every_6_inches() -> None:
    """Common practice, no source: 96 ÷ 6 twice and 48 ÷ 6 twice are 48 screws around a sheet of 4 × 8 ft."""
    far = Spacing(field=96, support=STUDS)

    plan = sheet_layout(make_rectangle(96, 48), 96, 48, turned=False, spacing=far)

    assert (EDGE, plan.fasteners) == (6, 48)


def test_a_membrane_has_two_coats() -> None:
    """Common practice, no source; the shipped rule is the same."""
    _, rules = read_catalogue(Path(settings.BASE_DIR) / "fixtures" / "materials")
    coats = [
        rule.values["coats"]
        for rule in rules
        if rule.material_code == "membrane-liquid" and rule.kind == RuleKind.FILM
    ]

    assert coats == [MEMBRANE_COATS]
    assert MEMBRANE_COATS == 2


def test_small_mosaics_are_combed_with_a_3_16_notch_that_leaves_the_least_bed() -> None:
    """Common practice, no source, that it is this notch; 3/16 × 3/16 ÷ 2 is 3/32 in."""
    bed = bed_for(Decimal(1), Decimal(2), Decimal(2))

    assert notch_for(Decimal(1), Decimal(1)).words() == "3/16 × 3/16 in square notch"
    assert bed.combed == bed.depth == MIN_BED


def test_a_trap_arm_goes_through_a_hole_of_2_and_a_quarter_inches() -> None:
    """Common practice, no source. π × 2.25² ÷ 4 = 3.976 sq in of board is gone; it takes no screw or seam."""
    plain, drilled = (
        sheet_layout(make_rectangle(96, 48, *holes), 96, 48, turned=False)
        for holes in ((), (pipe_hole((24, 20)),))
    )

    assert TRAP_ARM_HOLE == 2.25
    assert plain.covered - drilled.covered == pytest.approx(3.976, abs=0.001)
    assert (drilled.sheets, drilled.fasteners) == (1, plain.fasteners)
    assert drilled.seams == pytest.approx(0, abs=1e-6)
