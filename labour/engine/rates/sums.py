"""What a fit needs of all rows: sums over rows and over jobs, whose size does not grow with the history.

Jobs of the same size share one factor in the likelihood, so their sums are kept by size.
"""

from dataclasses import dataclass

from labour.engine.rates.columns import Columns, Floats


@dataclass(frozen=True)
class Sums:
    """Sums over rows (x the row, y its log ratio, w its weight) and, node by node, over jobs.

    log_weights: Σ log w. gram: Σ w x x′. cross: Σ w x y. square: Σ w y².
    node: total weights N of a job (its number of rows if unweighted) that stand for all jobs.
    jobs, job_grams (nodes × columns × columns), job_cross, job_square: for each node, the number of jobs,
    Σ s s′, Σ s t and Σ t², where s = Σ w x and t = Σ w y over the rows of a job.
    """

    columns: Columns
    rows: float
    log_weights: float
    gram: Floats
    cross: Floats
    square: float
    node: Floats
    jobs: Floats
    job_grams: Floats
    job_cross: Floats
    job_square: Floats
