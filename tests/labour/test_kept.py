"""How often ranges held, with an honest word about small counts."""

from decimal import Decimal

import pytest

from labour.engine.kept import StatedRange, Word, count_held


def ranges(inside: int, outside: int) -> list[StatedRange]:
    """So many ranges that held, and so many that did not."""
    low, high = Decimal(80), Decimal(120)
    return [StatedRange(low, high, Decimal(100))] * inside + [StatedRange(low, high, Decimal(121))] * outside


def test_the_ends_belong_to_the_range():
    low, high = Decimal("80.00"), Decimal("120.00")

    assert StatedRange(low, high, low).is_inside and StatedRange(low, high, high).is_inside
    assert not StatedRange(low, high, Decimal("79.99")).is_inside
    assert not StatedRange(low, high, Decimal("120.01")).is_inside


def test_the_interval_of_none_and_of_all_is_known_in_closed_form():
    """0 of n: the upper end is 1 − 0.05^(1/n); all of n mirror it. Clopper and Pearson (1934)."""
    none, every = count_held(ranges(0, 10), 0.8), count_held(ranges(10, 0), 0.8)

    assert (none.low, none.high) == (0.0, pytest.approx(1 - 0.05**0.1))
    assert (every.low, every.high) == (pytest.approx(0.05**0.1), 1.0)


def test_the_usual_counts_come_from_the_binomial_distribution():
    """Of 4 coins P(0) = 0.0625 > 0.05, so 0 to 4 is usual; of 5, P(0) = 0.031 < 0.05: 1 to 4."""
    assert count_held(ranges(2, 2), 0.5).usual == (0, 4)
    assert count_held(ranges(3, 2), 0.5).usual == (1, 4)


@pytest.mark.parametrize(
    ("inside", "outside", "word"),
    [
        (0, 4, Word.FEW),
        (4, 0, Word.FEW),
        (8, 2, Word.FITS),
        (10, 0, Word.FITS),
        (4, 6, Word.NARROW),
        (40, 0, Word.WIDE),
    ],
)
def test_few_say_nothing_and_many_say_what_they_show(inside, outside, word):
    assert count_held(ranges(inside, outside), 0.8).word is word


def test_no_ranges_are_no_crash():
    nothing = count_held([], 0.8)

    assert (nothing.count, nothing.share, nothing.usual, nothing.word) == (0, 0.0, (0, 0), Word.FEW)
    assert (nothing.low, nothing.high) == (0.0, 1.0)
