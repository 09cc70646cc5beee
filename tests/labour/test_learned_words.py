"""What was learned, in words and rates that a tradesperson accepts."""

import pytest

from labour.engine.book import book_of, with_every_trade
from labour.engine.learned import Factor, TaskRate, firm_factors, rate_of
from labour.engine.rates.explain import LearnedRate
from labour.engine.rates.mixed import fit_jobs
from labour.learn.words import against_book, firm_words, rate_words, sentence_of
from tests.labour.tasks import make_task

FLOOR = TaskRate(6, 14.0, 12.6, 3.96, 10.8, 11.7, 9.9, 13.9)


@pytest.mark.parametrize(
    ("rate", "words"),
    [(0.2841, "0.284"), (3.449, "3.45"), (11.66, "11.7"), (139.6, "140"), (8.0, "8"), (20.0, "20")],
)
def test_a_rate_is_told_with_the_figures_that_count(rate, words):
    assert rate_words(rate) == words


def test_factors_on_hours_divide_the_rate_and_turn_its_range_round():
    # 10 ÷ 1.25 = 8; slow 10 ÷ 1.6 = 6.25, fast 10 ÷ 1 = 10
    rate = rate_of(LearnedRate("floor", 4, 1.0, 1.1, 2.0, None, 1.25, 1.0, 1.6), 10.0)

    assert (rate.now, rate.low, rate.high, rate.own) == (8.0, 6.25, 10.0, None)
    assert rate.pace == pytest.approx(9.09, abs=0.01)


def test_a_learned_rate_is_told_in_one_breath():
    assert sentence_of(make_task(), FLOOR) == (
        "The book says 14 sq ft an hour; at your pace that would be 12.6, and it counts as about 4 jobs. "
        "Your 6 jobs, brought to normal conditions and size, say 10.8. "
        "Both together: 11.7, most likely 9.9 to 13.9."
    )


def test_one_job_that_says_too_little_is_told_so():
    told = sentence_of(make_task(unit="each"), TaskRate(1, 2.0, 2.0, 1.0, None, 1.9, 1.5, 2.4))

    assert "The book says 2 an hour" in told
    assert (
        "counts as about one job. Your one job, brought to normal conditions and size, says too little"
        in told
    )


@pytest.mark.parametrize(
    ("factor", "words"),
    [
        (Factor(1.12, 1.03, 1.22), "12 % more hours than the book (most likely 3 % more to 22 % more)"),
        (Factor(0.9, 0.8, 1.0), "10 % fewer hours than the book (most likely 20 % fewer to the same)"),
        (Factor(1.01, 0.9, 1.1), "About the hours of the book (most likely 10 % fewer to 10 % more)"),
    ],
)
def test_a_pace_is_told_against_the_book(factor, words):
    assert against_book(factor) == words


def test_the_firm_on_the_whole_is_told_without_any_job_too():
    draws = fit_jobs(with_every_trade(book_of([])), []).draw(500, seed=1)

    told = dict(firm_words(firm_factors(draws)))

    assert told["Your pace"].startswith("About the hours of the book")
    assert {"Big and small rooms", "A single task", "A whole job"} <= set(told)
