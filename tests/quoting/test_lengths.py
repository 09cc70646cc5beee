"""Lengths are read as people write them, kept exactly, and refused with what would be right."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.engine.measure.lengths import PER_UNIT, BadLength, format_length, parse_length

SIXTY_TWO_AND_A_HALF_INCHES = [
    "5' 2 1/2\"", "5-2 1/2", "5' 2.5\"", "5'-2 1/2\"", '62.5"', "62 1/2 in", '62-1/2"', "5’ 2½”", "5′ 2 1⁄2″",
    "5ft 2.5in", "5 feet 2 1/2 inches", "5 FT. 2 1/2 IN.", "  5'  2 1/2\" ", "5' 2 1/2", "5' 2 1/2''",
    "1587.5 mm",
    "158.75 cm", "1.5875 m",
]  # fmt: skip


@pytest.mark.parametrize("text", SIXTY_TWO_AND_A_HALF_INCHES)
def test_one_length_may_be_written_in_many_ways(text: str) -> None:
    length = parse_length(text)

    assert length.inches == Decimal("62.5")
    assert length.text == text


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("5'", 60), ("5' 2", 62), ("5'2\"", 62), ("5ft 2in", 62), ("5 ft. 6 in.", 66),
        ("½ in", Decimal("0.5")),
        ("3¼\"", Decimal("3.25")), ("5' 0\"", 60), ("5.5 ft", 66), (".5'", 6), ("5 1/2 ft", 66),
    ],
)  # fmt: skip
def test_feet_inches_and_fractions_add_up(text: str, inches: Decimal) -> None:
    assert parse_length(text).inches == inches


@pytest.mark.parametrize(("default", "mm"), [("ft", "1524"), ("in", "127"), ("mm", "5"), ("m", "5000")])
def test_a_plain_number_is_in_the_default_unit(default: str, mm: str) -> None:
    assert parse_length("5", default).mm == Decimal(mm)


def test_a_dash_after_inches_is_read_where_inches_are_meant() -> None:
    assert parse_length("62-1/2", "in").inches == Decimal("62.5")


@given(st.integers(1, 64 * 12 * 200))
def test_every_64th_of_an_inch_is_exact(sixty_fourths: int) -> None:
    length = parse_length(f"{sixty_fourths}/64 in")

    assert length.units == sixty_fourths * 127
    assert Fraction(length.units, PER_UNIT["in"]) == Fraction(sixty_fourths, 64)


@given(st.integers(1, 600_000))
def test_every_tenth_of_a_millimetre_is_exact(tenths: int) -> None:
    length = parse_length(f"{tenths // 10}.{tenths % 10} mm")

    assert length.units == tenths * 32
    assert length.mm * 10 == tenths


@given(st.integers(1, 16 * 12 * 200))
def test_what_is_shown_in_feet_and_inches_reads_back(sixteenths: int) -> None:
    units = sixteenths * PER_UNIT["in"] // 16

    assert parse_length(format_length(units, "us")).units == units


@given(st.integers(1, 60_000))
def test_what_is_shown_in_millimetres_reads_back(mm: int) -> None:
    assert parse_length(format_length(mm * 320, "metric")).units == mm * 320


@pytest.mark.parametrize(
    ("text", "us", "metric"),
    [
        ("62.5 in", "5' 2 1/2\"", "1588 mm"), ("6 in", '6"', "152 mm"), ("1/2 in", '1/2"', "13 mm"),
        ("5 ft", "5' 0\"", "1524 mm"), ("5' 0 1/2\"", "5' 1/2\"", "1537 mm"),
        ("11 63/64 in", "1' 0\"", "304 mm"),
    ],
)  # fmt: skip
def test_a_length_is_shown_to_the_nearest_sixteenth_or_millimetre(text: str, us: str, metric: str) -> None:
    length = parse_length(text)

    assert (format_length(length), format_length(length, "metric")) == (us, metric)


def test_a_length_on_neither_grid_goes_to_the_nearest_unit() -> None:
    third_of_a_foot_in_units = PER_UNIT["ft"] / 3

    assert parse_length("1/3 ft").units == third_of_a_foot_in_units
    assert parse_length("5.2 ft").units == 507_187  # 5.2 × 97,536 = 507,187.2
    assert parse_length("1/7 in").units == 1_161  # 8,128 ÷ 7 = 1,161.14


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("-5 ft", "negative"), ("−5", "negative"), ("0", "it is 0"), ("0' 0\"", "it is 0"),
        ("", "Write it like"),
        ("abc", "Write it like"), ("nan", "Write it like"), ("inf", "Write it like"),
        ("1e3", "Write it like"),
        ("5' 14\"", "under 12"), ("5' 12\"", "under 12"), ("1/0 in", "over 0"), ("5,5 ft", "decimal point"),
        ("201 ft", "longer than 200 ft"), ("61 m", "longer than 200 ft"), ("5-1/2", "two things"),
        ("5 m 20", "Write it like"), ("5' 2\" 3", "Write it like"), ("٥ ft", "Write it like"),
        ("9" * 50, "50 characters"), ("5' -2\"x", "Write it like"), ("1//2", "Write it like"),
    ],
)  # fmt: skip
def test_what_is_no_length_is_refused_with_what_would_be_right(text: str, hint: str) -> None:
    with pytest.raises(BadLength, match=hint):
        parse_length(text)


def test_a_metric_reader_does_not_take_a_dash_for_feet() -> None:
    with pytest.raises(BadLength):
        parse_length("5-2", "mm")


def test_zero_is_a_length_only_where_it_may_be() -> None:
    assert parse_length("0", zero_ok=True).units == 0


@given(st.text(max_size=45))
def test_any_text_gives_a_length_or_a_refusal(text: str) -> None:
    try:
        length = parse_length(text)
    except BadLength as bad:
        assert bad.problems[0].message
    else:
        assert 0 < length.units <= 200 * PER_UNIT["ft"]
