"""Published check values on fasteners: a measured use, and common spacings."""

from decimal import Decimal

import pytest

from quoting.engine.materials.consumption import use_of
from quoting.engine.materials.sheets import fasteners_per_sheet, fasteners_per_sq_ft
from quoting.engine.materials.values import ConsumptionRule, RuleKind

SQ_FT_PER_M2 = 1 / Decimal("0.09290304")
BOARD_M2 = Decimal("1.2") * Decimal("2.4")


def test_the_measured_use_per_board_follows_from_the_use_per_area() -> None:
    """Q39 (seen 9.65 a m²; 27.8 a board derived): ceiling board 1.2 × 2.4 m, composition 96114."""
    rule = ConsumptionRule("ceiling-board", "screws", RuleKind.EACH, {"per_unit": Decimal("9.65")})

    assert round(use_of(rule, BOARD_M2, "line").amount, 1) == Decimal("27.8")


def test_ceiling_spacing_brackets_the_measured_use() -> None:
    """Q39 against Q41 (memory: 12 in on ceilings): without edges below the measured 9.65 a m², with both
    edges of every board counted above it."""
    without_edges = fasteners_per_sq_ft(Decimal(12), Decimal(16)) * SQ_FT_PER_M2
    with_edges = fasteners_per_sheet(*[Decimal(n) for n in (48, 96, 12, 12, 16)]) / BOARD_M2

    assert without_edges < Decimal("9.65") < with_edges


@pytest.mark.parametrize(
    ("spacing", "per_sq_ft"),
    [
        ("8", "1.125"),  # Q40 (memory): cement board; also the screws a sq ft of wall in Q36 (seen)
        ("12", "0.75"),  # Q41 (memory): gypsum board on ceilings
        ("16", "0.5625"),  # Q41 (memory): gypsum board on walls
    ],
)
def test_spacing_on_supports_16_inches_apart_gives_fasteners_per_sq_ft(spacing: str, per_sq_ft: str) -> None:
    values = {"field_spacing": Decimal(spacing), "support_spacing": Decimal(16)}
    rule = ConsumptionRule("board", "screws", RuleKind.FASTENERS, values)

    assert use_of(rule, Decimal(1), "line").amount == Decimal(per_sq_ft)


def test_a_sheet_is_counted_around_and_between() -> None:
    """Common practice, no source. 4 × 8 ft, 8 in everywhere, studs 16 in apart: around 12 + 12 + 6 + 6 = 36,
    between 5 studs × 5 = 25."""
    assert fasteners_per_sheet(*[Decimal(n) for n in (48, 96, 8, 8, 16)]) == 61
