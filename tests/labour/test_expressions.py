"""Quantity expressions: what they may say, what they are worth, and how they refuse; any text at all."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from labour.engine.expressions import BadExpression, parse_condition, parse_quantity
from labour.engine.vocabulary import CONDITIONS, FACTS, QUANTITIES, Dimension
from tests.labour.rooms import make_figures

WORDS = [
    *(q.name for q in QUANTITIES),
    *FACTS,
    *CONDITIONS,
    *["min(", "max(", "ceil(", "ft(", "m2(", "(", ")", ",", "+", "-", "*", "/", "<", ">=", "==", "!="],
    *[" and ", " or ", " not ", " if ", " else ", " in ", "'large'", "'none'", "0", "1", "2.5", "0.3048"],
    *["**", "//", ".", "[", "]", "lambda ", "f'", "__", "\\", "\n", "é", "1e9", "0x", "is", "await ", ":="],
]


def value_of(text: str, **quantities: str) -> Decimal:
    return parse_quantity(text).value(make_figures(**quantities))


def refusal_of(text: str) -> str:
    with pytest.raises(BadExpression) as caught:
        parse_quantity(text)
    return str(caught.value)


@pytest.mark.parametrize(
    ("text", "worth", "dimension"),
    [
        ("floor_area", "40", Dimension.AREA),
        ("floor_area + ceiling_area * 2", "120", Dimension.AREA),
        ("floor_area - ceiling_area / 2", "20", Dimension.AREA),
        ("(floor_area + ceiling_area) / perimeter", "4", Dimension.LENGTH),
        ("perimeter * ft(0.5)", "10", Dimension.AREA),
        ("floor_area * inch(3)", "10", Dimension.VOLUME),
        ("-(tub_count - 3)", "2", Dimension.COUNT),
        ("max(0, floor_area - sq_ft(55))", "0", Dimension.AREA),
        ("min(floor_area, sq_ft(12.5), ceiling_area)", "12.5", Dimension.AREA),
        ("ceil(perimeter / ft(8))", "3", Dimension.COUNT),
        ("floor(perimeter / ft(8))", "2", Dimension.COUNT),
        ("2 * tub_count if floor_area > sq_ft(39) else 0", "2", Dimension.COUNT),
        ("0 if small_room else floor_area", "40", Dimension.AREA),
    ],
)
def test_an_expression_has_the_value_and_dimension_worked_by_hand(text, worth, dimension):
    expression = parse_quantity(text)

    value = expression.value(make_figures(floor_area="40", ceiling_area="40", perimeter="20", tub_count="1"))

    assert (value, expression.dimension) == (Decimal(worth), dimension)


@pytest.mark.parametrize(
    ("text", "feet"),
    [("ft(3)", "3"), ("inch(18)", "1.5"), ("m(3.048)", "10"), ("mm(304.8)", "1"), ("m2(0.09290304)", "1")],
)
def test_a_length_or_area_of_ones_own_is_made_in_feet(text, feet):
    assert round(value_of(text), 20) == Decimal(feet)


def test_the_last_digits_of_a_division_do_not_make_one_more_piece():
    assert value_of("ceil(m(2.4) / m(0.4))") == 6
    assert value_of("ceil(ft(1) / inch(4))") == 3
    assert value_of("floor(m(2.4) / m(0.4))") == 6


@given(st.lists(st.decimals(0, 10_000, places=3), min_size=2, max_size=2))
def test_a_sum_is_worth_what_its_parts_are_worth_together(areas):
    room = make_figures(wall_area=str(areas[0]), floor_area=str(areas[1]))

    total = parse_quantity("wall_area + floor_area").value(room)

    assert total == sum(areas)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("wet_wal_area", "wet_wal_area is not a known name; did you mean wet_wall_area?"),
        ("zzz", "zzz is not a known name"),
        ("perimeter + floor_area", "floor_area is an area (sq ft) where a length (lin ft) belongs"),
        ("max(tub_count, perimeter)", "perimeter is a length (lin ft) where a count belongs"),
        ("floor_area if small_room else perimeter", "perimeter is a length (lin ft) where an area"),
        ("floor_area if floor_area > 3 else 0", "3 is a count where an area (sq ft) belongs"),
        ("floor_area * floor_area", "neither a count, a length, an area nor a volume"),
        ("1 / perimeter", "neither a count, a length, an area nor a volume"),
        ("ceil(perimeter)", "divide it first, as in ceil(perimeter / ft(8))"),
        ("ft(perimeter)", "perimeter is a length (lin ft) where ft takes a plain number"),
        ("floor_area / 0", "divides by zero"),
        ("wall_tile", "wall_tile is a text where a number belongs"),
        ("small_room * 2", "small_room is yes or no where a number belongs"),
        ("tub_count > 0", "tub_count > 0 is yes or no where a number belongs"),
        ("2 if tub_count else 1", "tub_count is a count where yes or no belongs"),
        ("floor_area.real", "floor_area.real is not something an expression may say"),
        ("floor_area[0]", "is not something an expression may say"),
        ("[floor_area]", "is not something an expression may say"),
        ("f'tub_count'", "is not something an expression may say"),
        ("__import__('os')", "__import__ is not a known function"),
        ("eval('1')", "eval is not a known function"),
        ("celi(2)", "did you mean ceil?"),
        ("min.__class__(1)", "is not something an expression may say"),
        ("max(*(1, 2))", "is not something an expression may say"),
        ("max(1, key=2)", "is not something an expression may say"),
        ("max(1)", "max takes two or more values"),
        ("ft(1, 2)", "ft takes one number"),
        ("ft", "ft is a function; write ft(…)"),
        ("lambda: 1", "':' has no meaning here"),
        ("9**9**9", "only + - * / are known"),
        ("7 // 2", "only + - * / are known"),
        ("7 % 2", "'%' has no meaning here"),
        ("~1", "'~' has no meaning here"),
        ("'large'", "'large' stands where a number belongs"),
        ("True", "True stands where a number belongs"),
        ("5ft", "write 5 feet as ft(5)"),
        ("1e9", "1e is neither a number nor a name"),
        ("0x10", "0x is neither a number nor a name"),
        ("1_000", "1_ is neither a number nor a name"),
        ("1234567890", "is not a plain number"),
        ("floor_area +", "cannot be read at character"),
        ("floor_area perimeter", "cannot be read at character"),
        ("", "is empty; write a quantity such as floor_area, or 1"),
    ],
)
def test_a_refusal_names_the_wrong_word_and_what_would_be_right(text, said):
    assert said in refusal_of(text)


def test_a_refusal_names_the_expression():
    assert refusal_of("floor_area + zzz").startswith("“floor_area + zzz”: ")


def test_an_expression_of_more_than_300_characters_is_refused():
    longest = "floor_area" + " " * 287 + "* 1"

    assert len(longest) == 300
    assert parse_quantity(longest).dimension is Dimension.AREA
    assert "has 301 characters; at most 300" in refusal_of(longest + " ")


@pytest.mark.parametrize("text", ["(" * 150 + "1" + ")" * 149, "-" * 299 + "1", "+".join("1" * 150)])
def test_an_expression_that_is_nested_too_deeply_is_refused(text):
    assert refusal_of(text)


def test_thirty_levels_of_nesting_are_read_and_one_more_is_not():
    assert value_of("-" * 30 + "1") == 1
    assert "nested more than 30 levels" in refusal_of("-" * 31 + "1")


def test_dividing_by_nothing_names_the_room():
    with pytest.raises(BadExpression, match=r"divides by zero in Hall bath"):
        value_of("floor_area / tub_count", floor_area="40", tub_count="0")


def test_nothing_divided_by_nothing_is_refused():
    with pytest.raises(BadExpression, match="Hall bath"):
        value_of("niche_count / tub_count")


def test_a_value_less_than_nothing_is_refused():
    with pytest.raises(
        BadExpression, match=r"gives -5\.00 in Hall bath, less than nothing; guard it with max"
    ):
        value_of("floor_area - wall_area", floor_area="20", wall_area="25")


def test_a_value_beyond_a_thousand_million_is_refused():
    with pytest.raises(BadExpression, match="beyond"):
        value_of("999999999 * 999999999")


def test_a_missing_figure_is_named():
    room = replace(make_figures(), quantities={})

    with pytest.raises(BadExpression, match="Hall bath has no figure for floor_area"):
        parse_quantity("floor_area").value(room)


def test_a_figure_that_is_no_number_is_refused():
    with pytest.raises(BadExpression):
        value_of("floor_area + ceiling_area", floor_area="NaN")


def test_the_working_puts_numbers_beside_their_names():
    room = make_figures(wet_wall_area="82.5", niche_face_area="3")

    worked = parse_quantity("wet_wall_area + niche_face_area").worked(room)

    assert worked == "wet_wall_area 82.50 + niche_face_area 3.00 = 85.50 sq ft"


def test_the_working_of_a_single_quantity_is_its_value():
    assert (
        parse_quantity("base_length").worked(make_figures(base_length="17.385")) == "base_length 17.39 lin ft"
    )
    assert parse_quantity("tub_count").worked(make_figures(tub_count="2")) == "tub_count 2"


def test_the_working_shows_facts_and_conditions_but_leaves_texts_alone():
    room = make_figures("old_house", facts={"wall_tile": "stone"}, floor_area="40")

    worked = parse_quantity("floor_area if wall_tile == 'stone' and not old_house else 0").worked(room)

    assert (
        worked == "floor_area 40.00 if wall_tile stone == 'stone' and not old_house yes else 0 = 0.00 sq ft"
    )


def test_the_working_shows_more_digits_where_hundredths_would_not_add_up():
    room = make_figures(floor_area="12.344", ceiling_area="12.344")

    worked = parse_quantity("floor_area + ceiling_area").worked(room)

    assert worked == "floor_area 12.3440 + ceiling_area 12.3440 = 24.69 sq ft"


def test_an_expression_names_the_quantities_it_speaks_of():
    expression = parse_quantity("max(floor_area, sq_ft(3)) if wall_tile == 'none' else ceiling_area")

    assert expression.names == {"floor_area", "ceiling_area"}


@given(st.text(max_size=320))
@example("\0")
@example("1if 1else 2")
@example("floor_area\\")
@example("((((" * 80)
@example("\ud800")
def test_any_text_is_read_or_refused_and_nothing_else(text):
    for parse in (parse_quantity, parse_condition):
        try:
            parse(text)
        except BadExpression as refusal:
            assert refusal.problems[0].message


@given(st.lists(st.sampled_from(WORDS), max_size=12).map("".join))
def test_any_order_of_the_words_is_worth_something_or_refused(text):
    room = make_figures("old_house", floor_area="40", wall_area="200", tub_count="1")
    for ask in (lambda: parse_quantity(text).value(room), lambda: parse_condition(text).holds(room)):
        try:
            answer = ask()
        except BadExpression:
            continue
        assert isinstance(answer, bool) or answer >= 0
