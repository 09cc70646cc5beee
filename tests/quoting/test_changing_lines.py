"""Lines of change orders as they are typed: what is read, and what is refused by its field."""

from decimal import Decimal

import pytest

from labour.engine.refusal import Refusal
from quoting.engine.change_lines import BadLines, read_lines
from quoting.engine.extents import read_area, read_count, read_length
from tests.quoting.change_cast import allowance, credit, plain, rot, work


def problems_of(*lines: dict[str, str]) -> list[str]:
    """The fields that a refusal names."""
    with pytest.raises(BadLines) as refused:
        read_lines(lines)
    return [problem.field for problem in refused.value.problems]


@pytest.mark.parametrize(
    ("typed", "feet"),
    [
        ("12", "12"),
        ("12.5 sq ft", "12.5"),
        ("12 sf", "12"),
        ("3' x 4'", "12"),
        ("3' 6\" × 2'", "7"),
        ("", "0"),
    ],
)
def test_an_area_is_read_as_people_write_it(typed: str, feet: str):
    assert read_area(typed, "area") == Decimal(feet)


@pytest.mark.parametrize("typed", ["1", "1 m²", "1 m2", "1000 mm x 1 m", "10.7639 sq ft"])
def test_a_square_metre_is_a_square_metre_however_it_is_written(typed: str):
    # 1 m² = 10.7639 sq ft
    assert abs(read_area(typed, "area", metric=True) - Decimal("10.7639")) < Decimal("0.0001")


@pytest.mark.parametrize("typed", ["some", "-3", "12 ft", "3' x", "1e3", "99999", "4 x 4 x 4"])
def test_what_is_no_area_is_refused_with_its_field(typed: str):
    with pytest.raises(Refusal) as refused:
        read_area(typed, "lines[0].area")

    assert refused.value.problems[0].field == "lines[0].area"


def test_lengths_and_counts_follow_the_firms_unit():
    assert read_length("8", "length") == Decimal(8)
    assert abs(read_length("2", "length", metric=True) - Decimal("6.5617")) < Decimal("0.0001")
    assert (read_count("3", "count"), read_count("", "count")) == (Decimal(3), Decimal(0))


@pytest.mark.parametrize("typed", ["2.5", "-1", "1000", "²", "two"])
def test_a_count_is_a_whole_number(typed: str):
    with pytest.raises(Refusal, match="not a count"):
        read_count(typed, "count")


def test_every_kind_of_line_is_read():
    kinds = [work(), rot(), plain(), credit("Hall bath/clean"), allowance("1,250.00")]

    read = read_lines(kinds)

    assert [type(line).__name__ for line in read] == [
        "WorkAsked", "TemplateAsked", "PlainAsked", "CreditAsked", "AllowanceAsked"
    ]  # fmt: skip
    assert [line.field for line in read] == [f"lines[{place}]" for place in range(5)]


def test_every_problem_of_every_line_is_named_at_once():
    wrong_template = rot("lots", room="", count="x")
    wrong_plain = {"kind": "plain", "description": "", "category": "gold", "amount": "ten"}

    fields = problems_of(work(quantity="0"), wrong_template, wrong_plain, {"kind": "wish"}, credit(""))

    assert fields == [
        "lines[0].quantity",
        "lines[1].room", "lines[1].area", "lines[1].count",
        "lines[2].description", "lines[2].category", "lines[2].amount",
        "lines[3].kind",
        "lines[4].key",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("line", "field"),
    [
        (plain("0"), "lines[0].amount"),
        (allowance("-5"), "lines[0].chosen"),
        (rot(""), "lines[0].area"),
        (work(quantity="1e5"), "lines[0].quantity"),
        (work(task="a" * 201), "lines[0].task"),
        (plain(words="bad\x00word"), "lines[0].description"),
    ],
)
def test_a_line_that_says_nothing_usable_is_refused(line: dict[str, str], field: str):
    assert problems_of(line) == [field]


def test_a_change_order_has_an_end():
    assert problems_of(*[plain()] * 61) == ["lines"]
