"""Condition expressions: when they hold, and what is no condition."""

import pytest

from labour.engine.expressions import BadExpression, parse_condition
from tests.labour.rooms import make_figures


@pytest.mark.parametrize(
    ("text", "holds"),
    [
        ("", True),
        ("   ", True),
        ("tub_count > 0", True),
        ("tub_count > 0 and wall_tile == 'large'", True),
        ("tub_count > 0 and wall_tile != 'large'", False),
        ("wall_tile in ('small', 'large')", True),
        ("wall_tile not in ('small', 'large')", False),
        ("old_house", True),
        ("not old_house or small_room", False),
        ("floor_area >= sq_ft(40) and floor_area <= sq_ft(40)", True),
        ("floor_area / sq_ft(10) == 4", True),
        ("floor_area > 0", True),
    ],
)
def test_a_condition_holds_or_not_as_it_reads(text, holds):
    room = make_figures("old_house", facts={"wall_tile": "large"}, tub_count="1", floor_area="40")

    assert parse_condition(text).holds(room) is holds


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("wall_tile == 'huge'", "'huge' is not a value of wall_tile; it may be none, small, medium"),
        ("wall_tile in ('large', 'huge')", "'huge' is not a value of wall_tile"),
        ("wall_tile == floor_tile", "wall_tile is a text; compare it as in wall_tile =="),
        ("wall_tile < 'large'", "wall_tile is a text; compare it as in"),
        ("wall_tile in ()", "wall_tile is a text; compare it as in"),
        ("wall_tile in 'large'", "wall_tile is a text; compare it as in"),
        ("wall_tile", "wall_tile is a text; compare it, as in wall_tile == "),
        ("tub_count", "tub_count is a count where yes or no belongs; compare it, as in tub_count > 0"),
        ("0 < tub_count < 3", 'compare two things at a time and join them with "and"'),
        ("tub_count is 1", "numbers are compared with < <= > >= == !="),
        ("tub_count in (1, 2)", "is not something an expression may say"),
        ("'large' == wall_tile", "'large' stands where a number belongs"),
        ("old_hous", "old_hous is not a known name; did you mean old_house?"),
        ("old_house == 1", "old_house is yes or no where a number belongs"),
        ("tub_count > perimeter", "perimeter is a length (lin ft) where a count belongs"),
        ("old_house and open('x')", "open is not a known function"),
        ("True", "True stands where a number belongs"),
    ],
)
def test_a_condition_that_is_no_condition_is_refused(text, said):
    with pytest.raises(BadExpression) as caught:
        parse_condition(text)

    assert said in str(caught.value)


def test_a_condition_that_divides_by_nothing_is_refused():
    with pytest.raises(BadExpression, match="divides by zero in Hall bath"):
        parse_condition("floor_area / tub_count > sq_ft(3)").holds(make_figures(floor_area="40"))
