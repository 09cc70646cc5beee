"""What a start costs along one axis in the wishes of the trade: starts come in, their faults go out."""

from dataclasses import dataclass

import numpy as np

from quoting.engine.layout.axes import (
    Axis,
    is_end,
    missed_rungs,
    off_goal,
    piece_widths,
    starts_worth_trying,
    unlike,
)


@dataclass(frozen=True, slots=True)
class Judged:
    """Faults of a start along one axis, 0 where there is none.

    narrow: rungs missed (½, ¼, ⅛ … of a tile) by the narrowest piece at the two ends, and by that at each
    other outer side. off_line: 1 when the line wished for is missed. unlike: inches by which the two ends
    differ. pinched: rungs missed at all sides together. smallest: width of the narrowest piece, inches.
    """

    start: float
    narrow: int
    off_line: int
    unlike: float
    pinched: int
    smallest: float

    @property
    def by_trade(self) -> tuple[float, ...]:
        """Order of the trade: no narrow pieces, the line, like ends, no narrow pieces at openings."""
        return self.narrow, self.off_line, self.unlike, self.pinched

    @property
    def by_middle(self) -> tuple[float, ...]:
        """The same with like ends before the line."""
        return self.narrow, self.unlike, self.off_line, self.pinched


def judge(axis: Axis, starts: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> tuple[Judged, ...]:
    """The faults of each start."""
    widths = piece_widths(axis, starts)
    if widths.shape[1]:
        missed = missed_rungs(axis, widths).max(axis=2)
        smallest = widths.min(axis=(1, 2))
    else:
        missed, smallest = np.zeros((len(starts), 0)), np.full(len(starts), axis.tile)
    ends = np.array([is_end(axis, side) for side in axis.sides], dtype=bool)
    outer = np.array([side.outer for side in axis.sides], dtype=bool) & ~ends
    narrow = missed[:, outer].sum(axis=1) + missed[:, ends].max(axis=1, initial=0)
    columns = (
        starts,
        narrow.astype(int),
        off_goal(axis, starts).astype(int),
        unlike(axis, widths),
        missed.sum(axis=1).astype(int),
        smallest,
    )
    return tuple(Judged(*row) for row in zip(*(column.tolist() for column in columns), strict=True))


def judged_starts(axis: Axis) -> tuple[Judged, ...]:
    """Every start worth trying, with its faults."""
    return judge(axis, starts_worth_trying(axis))
