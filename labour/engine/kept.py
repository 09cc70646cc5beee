"""How often stated ranges held: ranges with what came of them go in, counts and an honest word come out."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from enum import StrEnum

FEWEST = 5
"""Below this many nothing is said of a range. Common practice, no source."""

_SURE = 0.9


class Word(StrEnum):
    """What a count says of a range."""

    FEW = "too few to say"
    FITS = "fits"
    NARROW = "held too seldom"
    WIDE = "held more often than stated"


@dataclass(frozen=True, slots=True)
class StatedRange:
    """A range in labour-hours, and the hours that it took."""

    low: Decimal
    high: Decimal
    actual: Decimal

    @property
    def is_inside(self) -> bool:
        """Whether the actual hours lie in the range; its ends belong to it."""
        return self.low <= self.actual <= self.high


@dataclass(frozen=True, slots=True)
class Held:
    """How often ranges held. wanted: the share that should. count: of how many; inside: how many held.

    usual: the counts inside that come up in 9 of 10 such lists when the range is true, both ends included.
    low, high: where the true share may well lie (exact binomial interval, 90 %).
    """

    wanted: float
    count: int
    inside: int
    usual: tuple[int, int]
    low: float
    high: float
    word: Word

    @property
    def share(self) -> float:
        """Part of the ranges that held; 0 of none."""
        return self.inside / self.count if self.count else 0.0


def count_held(ranges: Sequence[StatedRange], wanted: float) -> Held:
    """How often the ranges held, where a share of `wanted` should.

    usual: binomial quantiles at 5 % and 95 %. low, high: Clopper and Pearson (1934), from the beta
    distribution.
    """
    from scipy.stats import beta, binom

    count, inside = len(ranges), sum(each.is_inside for each in ranges)
    tail = (1 - _SURE) / 2
    usual = (
        (int(binom.ppf(tail, count, wanted)), int(binom.ppf(1 - tail, count, wanted))) if count else (0, 0)
    )
    low = float(beta.ppf(tail, inside, count - inside + 1)) if inside else 0.0
    high = float(beta.ppf(1 - tail, inside + 1, count - inside)) if inside < count else 1.0
    return Held(wanted, count, inside, usual, low, high, _word(count, inside, usual))


def _word(count: int, inside: int, usual: tuple[int, int]) -> Word:
    if count < FEWEST:
        return Word.FEW
    if inside < usual[0]:
        return Word.NARROW
    return Word.WIDE if inside > usual[1] else Word.FITS
