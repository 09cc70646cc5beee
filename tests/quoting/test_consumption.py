"""What work uses of a material: each kind of rule by hand, and rules that are refused."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.engine.materials.consumption import BadRule, check_rule, check_unit, use_of
from quoting.engine.materials.values import ConsumptionRule, Material, RuleKind
from quoting.engine.pricing.values import Category

GOOD: dict[RuleKind, dict[str, str]] = {
    RuleKind.EACH: {"per_unit": "2"},
    RuleKind.LENGTH: {"per_unit": "3"},
    RuleKind.COVERAGE: {"covers": "350", "coats": "2"},
    RuleKind.FILM: {"wet_mils": "20", "coats": "2"},
    RuleKind.BED: {"notch_width": "0.25", "notch_depth": "0.25", "land": "0.25", "density": "105"},
    RuleKind.GROUT: {
        "tile_length": "12", "tile_width": "12", "joint": "0.125", "depth": "0.25", "density": "100",
    },
    RuleKind.DEPTH: {"depth": "0.25", "density": "110"},
    RuleKind.SHEET: {"sheet_area": "32"},
    RuleKind.FASTENERS: {"field_spacing": "8", "support_spacing": "16"},
}  # fmt: skip


def make_rule(kind: RuleKind, *, waste: str = "0", **values: str) -> ConsumptionRule:
    figures = {name: Decimal(value) for name, value in (values or GOOD[kind]).items()}
    return ConsumptionRule("task-code", "material-code", kind, figures, Decimal(waste))


@pytest.mark.parametrize(
    ("kind", "quantity", "amount"),
    [
        (RuleKind.EACH, "3", "6"),  # 3 × 2
        (RuleKind.LENGTH, "5", "15"),  # 5 × 3
        (RuleKind.COVERAGE, "175", "1"),  # 175 × 2 ÷ 350
        (RuleKind.FILM, "100", "2.4935"),  # 100 × 2 × 20 ÷ 1604.1667
        (RuleKind.BED, "100", "109.375"),  # 100 × 0.125 ÷ 12 × 105
        (RuleKind.GROUT, "100", "4.2734"),  # 0.25 × (1 − 144 ÷ 147.015625) = 0.0051281; × 100 ÷ 12 × 100
        (RuleKind.DEPTH, "50", "114.5833"),  # 50 × 0.25 ÷ 12 × 110
        (RuleKind.SHEET, "48", "1.5"),  # 48 ÷ 32
        (RuleKind.FASTENERS, "32", "36"),  # 32 × 144 ÷ 128
    ],
)
def test_each_kind_by_hand(kind: RuleKind, quantity: str, amount: str) -> None:
    used = use_of(make_rule(kind), Decimal(quantity), "Bath/line")

    assert round(used.amount, 4) == Decimal(amount)
    assert (used.key, used.material_code) == ("Bath/line", "material-code")


def test_waste_comes_last_and_is_shown() -> None:
    used = use_of(make_rule(RuleKind.SHEET, waste="10"), Decimal(48), "line")

    assert used.amount == Decimal("1.65")
    assert used.why.worked == "48 ÷ 32 sq ft = 1.5 sheets; + 10 % waste = 1.65"
    assert used.why.formula.endswith("+ waste")


def test_a_shallow_notch_still_leaves_the_least_bed() -> None:
    """3/16 in V-like notch leaves 0.0625 in; the least bed of 3/32 in counts: 96 × 0.09375 ÷ 12 × 100."""
    rule = make_rule(RuleKind.BED, notch_width="0.125", notch_depth="0.125", land="0.125", density="100")

    assert use_of(rule, Decimal(96), "line").amount == Decimal("75")


def test_back_butter_adds_to_the_bed() -> None:
    plain = make_rule(RuleKind.BED, **GOOD[RuleKind.BED])
    buttered = make_rule(RuleKind.BED, **GOOD[RuleKind.BED], back_butter="0.125")

    assert use_of(buttered, Decimal(10), "").amount == 2 * use_of(plain, Decimal(10), "").amount


def test_dry_mils_with_solids_are_wet_mils() -> None:
    dry = make_rule(RuleKind.FILM, dry_mils="7", solids="35")
    wet = make_rule(RuleKind.FILM, wet_mils="20")

    assert use_of(dry, Decimal(100), "").amount == use_of(wet, Decimal(100), "").amount


def test_a_depth_by_yield_counts_bags() -> None:
    """60 sq ft × 0.5 in ÷ 12 = 2.5 cu ft; at 0.5 cu ft a bag, 5 bags."""
    rule = make_rule(RuleKind.DEPTH, depth="0.5", **{"yield": "0.5"})

    assert use_of(rule, Decimal(60), "").amount == 5


def test_edges_of_sheets_take_more_fasteners() -> None:
    """A 4 × 8 ft sheet takes 61 at 8 in around and between; 64 sq ft are two sheets."""
    sheet = {"edge_spacing": "8", "sheet_width": "48", "sheet_length": "96"}

    used = use_of(make_rule(RuleKind.FASTENERS, **GOOD[RuleKind.FASTENERS], **sheet), Decimal(64), "")

    assert used.amount == 122


@pytest.mark.parametrize("kind", RuleKind)
@given(quantity=st.decimals("0", "5000", places=2))
def test_twice_the_work_uses_twice_as_much(kind: RuleKind, quantity: Decimal) -> None:
    rule = make_rule(kind, waste="7.5")

    once, twice = use_of(rule, quantity, "").amount, use_of(rule, 2 * quantity, "").amount

    assert abs(twice - 2 * once) < Decimal("1e-15")
    assert once >= 0


@pytest.mark.parametrize("kind", RuleKind)
def test_every_figure_of_a_kind_matters(kind: RuleKind) -> None:
    before = use_of(make_rule(kind), Decimal(100), "").amount

    for name, value in GOOD[kind].items():
        changed = make_rule(kind, **{**GOOD[kind], name: str(Decimal(value) * Decimal("1.5"))})
        assert use_of(changed, Decimal(100), "").amount != before, name


@pytest.mark.parametrize("kind", [kind for kind in RuleKind if kind is not RuleKind.LENGTH])
def test_a_missing_figure_is_named(kind: RuleKind) -> None:
    name = next(iter(GOOD[kind]))
    rule = ConsumptionRule("task-code", "material-code", kind)

    with pytest.raises(BadRule) as refused:
        use_of(rule, Decimal(1), "line")

    assert "task-code uses material-code" in str(refused.value)
    assert name in str(refused.value)


@pytest.mark.parametrize("value", ["0", "-1", "NaN", "Infinity", "1e9", "1e-9"])
def test_a_figure_must_be_above_zero_and_sensible(value: str) -> None:
    rule = make_rule(RuleKind.SHEET, sheet_area=value)

    (problem,) = check_rule(rule)

    assert problem.field == "task-code uses material-code, sheet_area"
    assert "above zero" in problem.message


def test_an_unknown_figure_is_named_with_the_known_ones() -> None:
    (problem,) = check_rule(make_rule(RuleKind.COVERAGE, covers="300", coat="2"))

    assert problem.field.endswith(", coat")
    assert "coats, covers" in problem.message


@pytest.mark.parametrize(
    ("kind", "values"),
    [
        (RuleKind.FILM, {"wet_mils": "20", "dry_mils": "8", "solids": "40"}),
        (RuleKind.FILM, {"dry_mils": "8"}),
        (RuleKind.DEPTH, {"depth": "1", "density": "100", "yield": "0.5"}),
        (RuleKind.FASTENERS, {"field_spacing": "8", "support_spacing": "16", "edge_spacing": "6"}),
        (RuleKind.FILM, {"dry_mils": "8", "solids": "140"}),
    ],
)
def test_figures_that_contradict_or_lack_each_other_are_refused(
    kind: RuleKind, values: dict[str, str]
) -> None:
    assert len(check_rule(make_rule(kind, **values))) == 1


@pytest.mark.parametrize("waste", ["-1", "101", "NaN"])
def test_waste_is_a_percentage(waste: str) -> None:
    (problem,) = check_rule(make_rule(RuleKind.SHEET, waste=waste))

    assert problem.field.endswith(", waste")


def test_a_condition_that_cannot_be_read_is_named() -> None:
    rule = ConsumptionRule("task-code", "material-code", RuleKind.LENGTH, when="floor_tile == 'huge'")

    (problem,) = check_rule(rule)

    assert problem.field.endswith(", when")
    assert "huge" in problem.message


@pytest.mark.parametrize("quantity", ["-1", "NaN", "Infinity", "1e12"])
def test_a_quantity_must_be_sensible(quantity: str) -> None:
    with pytest.raises(BadRule, match="task-code uses material-code, quantity"):
        use_of(make_rule(RuleKind.SHEET), Decimal(quantity), "line")


def test_a_rule_that_gives_pounds_does_not_fit_a_material_in_sheets() -> None:
    sheets = Material("material-code", "Board", Category.MATERIAL, "sheet", "sheet", Decimal(1), None)

    (problem,) = check_unit(make_rule(RuleKind.BED), sheets)

    assert "gives lb, but material-code is counted in sheet" in problem.message
    assert check_unit(make_rule(RuleKind.SHEET), sheets) == ()
