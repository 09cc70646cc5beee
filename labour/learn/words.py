"""What was learned, in sentences that a tradesperson accepts. Comes in: figures. Goes out: words."""

from labour.engine.learned import Factor, FirmFactors, TaskRate
from labour.engine.tasks import Task
from labour.engine.vocabulary import CONDITIONS

_TRADE_WORDS = {
    "site": "Protecting, tearing out and cleaning up",
    "services": "Pipes, wires and fixtures",
    "carpentry": "Framing and floors",
    "board": "Board and waterproofing",
    "tile": "Tile and grout",
    "finish": "Finish work",
}
_SAME = 0.02


def rate_words(rate: float) -> str:
    """A rate to three figures that count: 0.284, 3.45, 11.7, 140."""
    if rate >= 100:
        return f"{rate:.0f}"
    text = f"{rate:.1f}" if rate >= 10 else f"{rate:.2f}" if rate >= 1 else f"{rate:.3f}"
    return text.rstrip("0").rstrip(".")


def sentence_of(task: Task, rate: TaskRate) -> str:
    """How a learned rate came about."""
    unit = "" if task.unit_code == "each" else f" {task.unit.label}"
    book = f"The book says {rate_words(rate.book)}{unit} an hour"
    pace = f"at your pace that would be {rate_words(rate.pace)}, and it counts as {_jobs(rate.counts_as)}"
    own = f"Your {rate.jobs} jobs" if rate.jobs > 1 else "Your one job"
    said = "too little to tell" if rate.own is None else rate_words(rate.own)
    verb = "say" if rate.jobs > 1 else "says"
    now = f"{rate_words(rate.now)}, most likely {rate_words(rate.low)} to {rate_words(rate.high)}"
    return (
        f"{book}; {pace}. {own}, brought to normal conditions and size, {verb} {said}. Both together: {now}."
    )


def firm_words(factors: FirmFactors) -> list[tuple[str, str]]:
    """What holds for the firm on the whole: what it is about, and what the jobs say."""
    told = [("Your pace", f"{against_book(factors.pace)} on the whole.")]
    told += [
        (_TRADE_WORDS.get(trade, trade), f"{against_book(factor)}.")
        for trade, factor in factors.trades.items()
    ]
    told.append(("Big and small rooms", _size_words(factors.size)))
    told += [
        (CONDITIONS[name].partition(":")[0], f"{_beside_book(factor)}.")
        for name, factor in factors.conditions.items()
    ]
    spread = "of what is expected, in 8 of 10 jobs, for no reason that can be planned."
    told.append(
        (
            "A single task",
            f"It takes from {_share(1 / factors.scatter)} to {_share(factors.scatter)} {spread}",
        )
    )
    house = "of what is expected, in 8 of 10 jobs, because of the house and all that comes with it."
    told.append(
        ("A whole job", f"It takes from {_share(1 / factors.house)} to {_share(factors.house)} {house}")
    )
    return told


def against_book(factor: Factor) -> str:
    """A factor on hours against the book: "12 % more hours than the book (most likely …)"."""
    likely = f"(most likely {_more(factor.low)} to {_more(factor.high)})"
    if abs(factor.middle - 1) < _SAME:
        return f"About the hours of the book {likely}"
    return f"{_more(factor.middle)} hours than the book {likely}"


def _beside_book(factor: Factor) -> str:
    likely = f"(most likely {_more(factor.low)} to {_more(factor.high)})"
    if abs(factor.middle - 1) < _SAME:
        return f"It slows your work about as much as the book says {likely}"
    return f"{_more(factor.middle)} hours than the book's factor gives {likely}"


def _size_words(size: Factor) -> str:
    likely = f"(most likely {_more(size.low)} to {_more(size.high)})"
    if abs(size.middle - 1) < _SAME:
        return f"Set-up weighs about as much as the book says {likely}."
    return (
        f"Twice the quantity takes {_more(size.middle)} hours a unit than the book's set-up gives {likely}."
    )


def _more(factor: float) -> str:
    percent = f"{abs(100 * (factor - 1)):.0f}"
    return "the same" if percent == "0" else f"{percent} % {'more' if factor > 1 else 'fewer'}"


def _share(factor: float) -> str:
    return f"{100 * factor:.0f} %"


def _jobs(count: float) -> str:
    if count < 0.75:
        return "about half a job"
    if count < 1.25:
        return "about one job"
    number = f"{count:.1f}".removesuffix(".0") if count < 10 else f"{count:.0f}"
    return f"about {number} jobs"
