"""The door of the labour model: finished jobs as they were logged, days with several tasks among them.

In: a book and jobs, or none at all. Out: `Posterior`.
"""

from collections.abc import Sequence

from labour.engine.rates.columns import Columns
from labour.engine.rates.gather import gather
from labour.engine.rates.layout import layout_on
from labour.engine.rates.posterior import Posterior
from labour.engine.rates.records import refuse_bad_logs, rows_of
from labour.engine.rates.robust import fit_rounds
from labour.engine.rates.together import mixed_days
from labour.engine.rates.values import STARTING_PRIORS, Book, JobDone, Logged, Priors


def fit_jobs(
    book: Book, jobs: Sequence[JobDone], priors: Priors = STARTING_PRIORS, robust: bool = True
) -> Posterior:
    """Fit finished jobs. Raise BadLog for what cannot be learned from."""
    refuse_bad_logs(book, jobs)
    entries = [gather(job.logged) for job in jobs if job.logged]
    columns = _columns(book, entries)
    alone = rows_of(book, [[one for one in logged if len(one.works) == 1] for logged in entries])
    joint = [(job, one) for job, logged in enumerate(entries) for one in logged if len(one.works) > 1]
    rows = layout_on(columns, book, alone, len(entries))
    return fit_rounds(book, rows, mixed_days(columns, joint), priors, robust)


def _columns(book: Book, entries: Sequence[Sequence[Logged]]) -> Columns:
    """Columns of all that occurs in any entry."""
    every = Columns(book)
    works = [work for logged in entries for one in logged for work in one.works]
    tasks = {every.place_of_task[work.code] for work in works}
    conditions = {every.place_of_condition[name] for work in works for name in work.conditions}
    return every.only(sorted(tasks), sorted(conditions))
