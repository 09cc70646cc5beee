"""What the model is measured against: the book, simple averages, and an oracle that knows the truth."""

import numpy as np

from tests.bench.learning.simulator import TASKS, Firm, Floats, Rows, house_noise, scatter_noise

# The book counts as so many jobs in the shrunk average.
BOOK_JOBS = 1.5


def by_book(test: Rows) -> Floats:
    """Hours by the bare published rate."""
    return test.bare_hours


def by_last_job(firm: Firm, seen: Rows, test: Rows) -> Floats:
    """Hours at the rate of the last job that had the task; the book where none had."""
    per_unit = 1.0 / firm.rate
    # Rows stand in the order of the jobs, so a later one overwrites an earlier one.
    per_unit[seen.task] = seen.hours / seen.quantity
    return test.quantity * per_unit[test.task]


def by_plain_average(firm: Firm, seen: Rows, test: Rows) -> Floats:
    """Hours at the firm's own average (all its hours ÷ all its quantity); the book where it has none."""
    return _averaged(firm, seen, test, book_jobs=0.0)


def by_shrunk_average(firm: Firm, seen: Rows, test: Rows) -> Floats:
    """The average with the book counted as one job and a half."""
    return _averaged(firm, seen, test, book_jobs=BOOK_JOBS)


def _averaged(firm: Firm, seen: Rows, test: Rows, book_jobs: float) -> Floats:
    times = np.bincount(seen.task, minlength=TASKS)
    hours = np.bincount(seen.task, weights=seen.hours, minlength=TASKS)
    quantity = np.bincount(seen.task, weights=seen.quantity, minlength=TASKS)
    own = np.divide(hours, quantity, out=1.0 / firm.rate, where=times > 0)
    weight = np.divide(times, times + book_jobs, out=np.zeros(TASKS), where=times > 0)
    per_unit = weight * own + (1.0 - weight) / firm.rate
    return test.quantity * per_unit[test.task]


def oracle_hours(firm: Firm, test: Rows, draws: int, seed: int) -> Floats:
    """Draws (draws × rows) of somebody who knows the firm's truth and the spread of its luck."""
    rng = np.random.default_rng([seed, 9])
    one_after_another = np.tile(test.task, draws)
    scatter = scatter_noise(firm, rng, one_after_another).reshape(draws, -1)
    house = house_noise(firm, rng, draws * test.jobs).reshape(draws, -1)[:, test.job]
    hours: Floats = np.exp(test.truth + house + scatter)
    return hours
