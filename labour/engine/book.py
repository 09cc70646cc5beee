"""The rate book as the labour model sees it: tasks come in, what is believed of them before any job goes out.

The model learns departures from the book: `work_of` gives the hours that it departs from.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import replace
from decimal import Decimal

from labour.engine.planning import Z_EIGHT_IN_TEN
from labour.engine.rates.values import STARTING_PRIORS, Book, TaskBook, Work
from labour.engine.tasks import Task
from labour.engine.units import UNITS
from labour.engine.vocabulary import CONDITIONS, Dimension, Phase

HALF_A_MAN_DAY = Decimal(4)
"""Labour-hours: a book rate is taken to be meant for the quantity that this gives. Starting guess."""

TRADES: Mapping[Phase, str] = {
    Phase.PROTECTION: "site",
    Phase.DEMOLITION: "site",
    Phase.CLEAN_UP: "site",
    Phase.ROUGH_IN: "services",
    Phase.FIXTURES: "services",
    Phase.FRAMING: "carpentry",
    Phase.SUBFLOOR: "carpentry",
    Phase.BOARD: "board",
    Phase.WATERPROOFING: "board",
    Phase.TILE: "tile",
    Phase.GROUT: "tile",
    Phase.FINISH: "finish",
}
"""In which group of tasks a firm is fast or slow alike."""

_CONDITION_SD = 0.10
"""How sure the book's factors of conditions are: standard deviation of the log. Starting guess."""

_SPREAD = (0.5, 2.0)


def usual_quantity(task: Task) -> Decimal:
    """What half a man-day gives by the book, in the task's unit: (4 h − set-up) × rate.

    At least 1 of what is counted by the piece; set-up takes no more than 3 of the 4 hours.
    """
    quantity = max(HALF_A_MAN_DAY - task.setup_hours, Decimal(1)) * task.rate
    return max(quantity, Decimal(1)) if UNITS[task.unit_code].dimension == Dimension.COUNT else quantity


def book_of(tasks: Iterable[Task]) -> Book:
    """What is believed of the tasks. A wide range of the book lets a task stray further from it.

    spread = sigma of the rate's range ÷ 0.30 (what tasks stray on the whole), from 0.5 to 2.
    """
    believed = tuple(TaskBook(task.code, TRADES[task.phase], _spread(task)) for task in tasks)
    return Book(believed, dict.fromkeys(CONDITIONS, _CONDITION_SD))


def with_every_trade(book: Book) -> Book:
    """The book with a nameless task for each trade that it lacks: a task added later finds its trade."""
    lacking = sorted(set(TRADES.values()) - {task.trade for task in book.tasks})
    return replace(book, tasks=(*book.tasks, *(TaskBook(f"({trade})", trade) for trade in lacking)))


def work_of(task: Task, quantity: Decimal, conditions: Iterable[str], cutting: Decimal = Decimal(1)) -> Work:
    """A quantity of the task, more than 0, as the model takes it.

    book_hours = set-up + quantity ÷ rate × factors of those conditions that hold and that the task lists
    × cutting. The book so expects many cuts to take long, and they teach no slow rate.
    """
    held = frozenset(name for name in conditions if name in task.conditions)
    factor = math.prod((float(task.conditions[name]) for name in sorted(held)), start=float(cutting))
    return Work(
        code=task.code,
        book_hours=float(task.setup_hours) + float(quantity) / float(task.rate) * factor,
        size=math.log(float(quantity) / float(usual_quantity(task))),
        conditions=held,
    )


def _spread(task: Task) -> float:
    sigma = math.log(float(task.rate_high) / float(task.rate_low)) / (2 * Z_EIGHT_IN_TEN)
    return min(max(sigma / STARTING_PRIORS.stray[0], _SPREAD[0]), _SPREAD[1])
