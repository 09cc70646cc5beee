"""The columns of the labour model: which effect stands where, and how far each may stray before any job.

A row of task k at size l has 1 for firm, its trade, the task and each of its conditions, −l for size and for
size of the task. In: a book. Out: places of the effects and their prior standard deviations.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from labour.engine.rates.values import Book, Priors, Work

type Floats = NDArray[np.float64]
type Whole = NDArray[np.int64]
type Marks = NDArray[np.bool_]


@dataclass(frozen=True)
class Columns:
    """Order: firm, trades…, tasks…, size, size of each task…, conditions….

    trades: left out, those of the book's tasks in the order of their first task.
    """

    book: Book
    trades: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not self.trades:
            named = dict.fromkeys(task.trade for task in self.book.tasks)
            object.__setattr__(self, "trades", tuple(named))

    def __len__(self) -> int:
        return 2 + len(self.trades) + 2 * len(self.book.tasks) + len(self.book.conditions)

    @property
    def firm(self) -> int:
        return 0

    @cached_property
    def trade(self) -> Whole:
        """Column of the trade of each task."""
        place = {trade: 1 + number for number, trade in enumerate(self.trades)}
        return np.array([place[task.trade] for task in self.book.tasks], dtype=np.int64)

    @cached_property
    def task(self) -> Whole:
        return 1 + len(self.trades) + np.arange(len(self.book.tasks))

    @cached_property
    def size(self) -> int:
        return 1 + len(self.trades) + len(self.book.tasks)

    @cached_property
    def task_size(self) -> Whole:
        return self.size + 1 + np.arange(len(self.book.tasks))

    @cached_property
    def condition(self) -> Whole:
        return self.size + 1 + len(self.book.tasks) + np.arange(len(self.book.conditions))

    @cached_property
    def place_of_task(self) -> dict[str, int]:
        return {task.code: place for place, task in enumerate(self.book.tasks)}

    @cached_property
    def place_of_condition(self) -> dict[str, int]:
        return {name: place for place, name in enumerate(self.book.conditions)}

    @cached_property
    def spread(self) -> Floats:
        """How far each task strays, as a multiple of `stray`."""
        return np.array([task.spread for task in self.book.tasks], dtype=np.float64)

    def prior_sd(self, priors: Priors, stray: float) -> Floats:
        """Standard deviation of every effect, in logs, when single tasks stray by `stray`."""
        sd = np.empty(len(self))
        sd[self.firm] = priors.firm
        sd[1 : 1 + len(self.trades)] = priors.trade
        sd[self.task] = stray * self.spread
        sd[self.size] = priors.size
        sd[self.task_size] = priors.task_size
        sd[self.condition] = list(self.book.conditions.values())
        return sd

    def row(self, work: Work) -> list[tuple[int, float]]:
        """Column and value of what a work hangs on."""
        task = self.place_of_task[work.code]
        level = [self.firm, int(self.trade[task]), int(self.task[task])]
        sized = [self.size, int(self.task_size[task])]
        marked = sorted(int(self.condition[self.place_of_condition[name]]) for name in work.conditions)
        values = [1.0] * len(level) + [-work.size] * len(sized) + [1.0] * len(marked)
        return list(zip([*level, *sized, *marked], values, strict=True))

    def only(self, tasks: Sequence[int] | Whole, conditions: Sequence[int] | Whole) -> "Columns":
        """The same columns without the tasks and conditions not named by their place; all trades stay."""
        names = list(self.book.conditions)
        kept = {names[place]: self.book.conditions[names[place]] for place in conditions}
        return Columns(Book(tuple(self.book.tasks[place] for place in tasks), kept), self.trades)

    def places_in(self, wider: "Columns") -> Whole:
        """Place of each of these columns among those of `wider`, which holds them all."""
        tasks = [wider.place_of_task[task.code] for task in self.book.tasks]
        conditions = [wider.place_of_condition[name] for name in self.book.conditions]
        whole = np.arange(1 + len(self.trades))
        sized = [wider.size, *wider.task_size[tasks]]
        return np.concatenate([whole, wider.task[tasks], sized, wider.condition[conditions]]).astype(np.int64)
