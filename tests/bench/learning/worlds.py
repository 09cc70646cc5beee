"""What simulated firms live in: tasks, trades, conditions, and how the world departs from the model."""

from dataclasses import dataclass, replace

from labour.engine.rates.values import Priors

TRADES = {"demolition": 8, "carpentry": 6, "board": 5, "tile": 9, "fixtures": 7, "finish": 5}
TASK_TRADES = tuple(trade for trade, count in TRADES.items() for _ in range(count))
TASK_CODES = tuple(f"{trade}-{number + 1}" for trade, count in TRADES.items() for number in range(count))

# The firms are drawn from these, whatever the model comes to believe later.
DRAWN_FROM = Priors(
    firm=0.20,
    trade=0.15,
    size=0.08,
    task_size=0.07,
    scatter=(0.30, 0.35),
    house=(0.15, 0.50),
    stray=(0.30, 0.40),
)
SET_UP = 0.15


@dataclass(frozen=True, slots=True)
class Condition:
    """chance: how often it holds. sd: how far a firm's factor strays from the published one (sd of the log).

    trades: the ones that it slows, () for all. by_task: holds for single tasks rather than for a whole job.
    """

    name: str
    chance: float
    multiplier: float
    sd: float
    trades: tuple[str, ...] = ()
    by_task: bool = False

    def slows(self, trade: str) -> bool:
        """Whether work of the trade takes longer."""
        return not self.trades or trade in self.trades


CONDITIONS = (
    Condition("small room", 0.35, 1.12, 0.08),
    Condition("occupied", 0.55, 1.07, 0.06),
    Condition("upper floor", 0.40, 1.10, 0.08, ("demolition",)),
    Condition("out of plumb", 0.30, 1.20, 0.12, ("board", "tile")),
    Condition("old house", 0.35, 1.12, 0.10, ("carpentry", "fixtures")),
    Condition("mosaic", 0.15, 1.45, 0.15, ("tile",), by_task=True),
    Condition("diagonal", 0.15, 1.20, 0.10, ("tile",), by_task=True),
)


@dataclass(frozen=True, slots=True)
class World:
    """How hours come about. The defaults are the realistic world; `MODEL_WORLD` is the model itself.

    like_model: power of the quantity, normal residuals, the same condition factors for all tasks, hours as
    they are. slower: the firm's hours against what was drawn. stray, house: multiples of what was drawn.
    bad_jobs, bad_tasks: shares that go badly wrong. drift: how much faster the firm gets as the jobs go by.
    learning: exponent by which a task gets faster the more often it was done. uneven: sd of the log of
    each task's own scatter. jobs_share: occurrence of tasks against what was drawn. tasks_a_job: exactly so
    many, 0 as they occur. step: hours are rounded to it. mislabelled: share of condition ticks that are
    wrong. quantity_error: sd of the log of the quantity on paper against the true one.
    """

    like_model: bool = False
    slower: float = 1.0
    stray: float = 1.0
    house: float = 1.0
    bad_jobs: float = 0.04
    bad_tasks: float = 0.02
    drift: float = 0.03
    learning: float = 0.0
    uneven: float = 0.0
    jobs_share: float = 1.0
    tasks_a_job: int = 0
    step: float = 0.25
    mislabelled: float = 0.0
    quantity_error: float = 0.0
    quantity_sd: float = 0.5


REALISTIC = World()
MODEL_WORLD = World(like_model=True, bad_jobs=0.0, bad_tasks=0.0, drift=0.0, step=0.0)

VARIATIONS = {
    "nothing changed": REALISTIC,
    "the model is true": MODEL_WORLD,
    "nothing goes badly wrong": replace(REALISTIC, bad_jobs=0.0, bad_tasks=0.0),
    "16 % bad jobs, 8 % bad tasks": replace(REALISTIC, bad_jobs=0.16, bad_tasks=0.08),
    "firm 1.6 times slower": replace(REALISTIC, slower=1.6),
    "firm 1.6 times faster": replace(REALISTIC, slower=1 / 1.6),
    "book scatter twice": replace(REALISTIC, stray=2.0),
    "house effect twice": replace(REALISTIC, house=2.0),
    "no house effect": replace(REALISTIC, house=0.05),
    "drift five times": replace(REALISTIC, drift=0.15),
    "learning curve of 93 %": replace(REALISTIC, learning=0.10),
    "each task its own scatter": replace(REALISTIC, uneven=0.5),
    "few tasks a job": replace(REALISTIC, jobs_share=0.3),
    "three tasks a job": replace(REALISTIC, tasks_a_job=3),
    "whole hours": replace(REALISTIC, step=1.0),
    "10 % of ticks wrong": replace(REALISTIC, mislabelled=0.10),
    "quantities 10 % wrong": replace(REALISTIC, quantity_error=0.10),
    "quantities vary twice": replace(REALISTIC, quantity_sd=1.0),
}
