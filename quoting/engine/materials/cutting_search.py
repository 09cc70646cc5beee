"""The cheapest way to cut pieces from bars, in whole numbers.

Comes in: sizes of pieces and kinds of bars, both with one cut added. Goes out: bars with what is cut from
each, and whether it is proven that no other way is cheaper.
"""

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

ALWAYS_EXACT = 12
"""Up to so many pieces the search runs to its end."""

EXACT = 20
"""Up to so many it runs for MOST_STEPS, which mostly is to its end."""

MOST_STEPS = 100_000
_NO_LIMIT = 10**9
_FEW_STEPS = 2_000
_SLACK_BARS = 10

type Sizes = tuple[int, ...]


class Kind(NamedTuple):
    """A bar that can be bought: its length with one cut added, and what it weighs in the choice."""

    room: int
    weight: int


class Filled(NamedTuple):
    """A bar (place in the list of kinds) and what is cut from it, the longest first."""

    kind: int
    sizes: Sizes


type Filling = tuple[Filled, ...]


def cheapest(sizes: Sequence[int], kinds: Sequence[Kind]) -> tuple[Filling, bool]:
    """The lightest set of bars that gives all sizes. Every size must fit into some kind.

    First-fit-decreasing with each kind; then groups of two and three bars are cut anew as long as that
    helps; then, up to EXACT pieces, branch and bound over bars that hold nothing more.
    """
    wanted = tuple(sorted(sizes, reverse=True))
    found = _improved(_first_fit(wanted, kinds), kinds)
    if weight_of(found, kinds) <= least_weight(wanted, kinds):
        return found, True
    if len(wanted) > EXACT:
        return found, False
    search = _Search(kinds, found, _NO_LIMIT if len(wanted) <= ALWAYS_EXACT else MOST_STEPS)
    search.open(wanted, 0, ())
    return search.found, search.steps > 0


def weight_of(filling: Filling, kinds: Sequence[Kind]) -> int:
    """Weights of all bars together."""
    return sum(kinds[bar.kind].weight for bar in filling)


def least_weight(sizes: Sizes, kinds: Sequence[Kind]) -> int:
    """A bound that nothing beats: by total length, and by pieces of which no two share a bar."""
    total, longest = sum(sizes), max(kind.room for kind in kinds)
    if len(kinds) == 1:
        by_length = -(-total // kinds[0].room) * kinds[0].weight
    else:
        by_length = min(-(-total * kind.weight // kind.room) for kind in kinds)
    alone = [size for size in sizes if 2 * size > longest]
    by_piece = sum(min(kind.weight for kind in kinds if kind.room >= size) for size in alone)
    return max(by_length, by_piece)


def _first_fit(sizes: Sizes, kinds: Sequence[Kind]) -> Filling:
    """The lightest of the ways that open always the same kind, or the shortest that holds the piece."""
    ways = []
    for kind in kinds:
        bars: list[list[int]] = []
        left: list[int] = []
        for size in sizes:
            place = next((place for place, room in enumerate(left) if room >= size), None)
            if place is None:
                bars.append([])
                left.append(kind.room if kind.room >= size else _lightest((size,), kinds).room)
                place = len(bars) - 1
            bars[place].append(size)
            left[place] -= size
        ways.append(tuple(_filled(tuple(bar), kinds) for bar in bars))
    return min(ways, key=lambda way: weight_of(way, kinds))


def _lightest(sizes: Sizes, kinds: Sequence[Kind]) -> Kind:
    return min((kind for kind in kinds if kind.room >= sum(sizes)), key=lambda kind: kind.weight)


def _filled(sizes: Sizes, kinds: Sequence[Kind]) -> Filled:
    return Filled(kinds.index(_lightest(sizes, kinds)), sizes)


def _improved(found: Filling, kinds: Sequence[Kind]) -> Filling:
    while (better := _one_better(found, kinds)) is not None:
        found = better
    return found


def _one_better(found: Filling, kinds: Sequence[Kind]) -> Filling | None:
    """The same with one group of bars cut anew and lighter; groups of the bars with most room left."""
    loose = sorted(found, key=lambda bar: sum(bar.sizes) - kinds[bar.kind].room)[:_SLACK_BARS]
    for group in (*combinations(loose, 2), *combinations(loose, 3)):
        sizes = tuple(sorted((size for bar in group for size in bar.sizes), reverse=True))
        if least_weight(sizes, kinds) >= weight_of(group, kinds):
            continue
        search = _Search(kinds, group, _FEW_STEPS)
        search.open(sizes, 0, ())
        if search.found is not group:
            kept = list(found)
            for bar in group:
                kept.remove(bar)
            return (*kept, *search.found)
    return None


class _Search:
    """Branch and bound: what is cut from the bar that gives the longest piece left, then the next bar."""

    def __init__(self, kinds: Sequence[Kind], found: Filling, steps: int) -> None:
        """Begin with a way that is known; steps: after so many the search gives up."""
        self._kinds = kinds
        self.found = found
        self.steps = steps
        self._least = weight_of(found, kinds)
        self._seen: dict[Sizes, int] = {}

    def open(self, left: Sizes, spent: int, bars: Filling) -> None:
        """Cut what is left from new bars, having spent so much on others."""
        if not left:
            if spent < self._least:
                self.found, self._least = bars, spent
            return
        if spent + least_weight(left, self._kinds) >= self._least or self._seen.get(left, spent + 1) <= spent:
            return
        self._seen[left] = spent
        for number, kind in enumerate(self._kinds):
            for taken, rest in self._fillings(left, kind.room):
                if self.steps <= 0:
                    return
                if self._kinds[number] == _lightest(taken, self._kinds):
                    self.open(rest, spent + kind.weight, (*bars, Filled(number, taken)))

    def _fillings(self, left: Sizes, room: int) -> Iterator[tuple[Sizes, Sizes]]:
        """What may be cut from one bar with the first of left in it, and what then is left.

        Only fillings to which nothing can be added: one with a gap for a piece is never better.
        """
        if left[0] <= room:
            yield from self._fill(left, 1, room - left[0], left[:1], ())

    def _fill(
        self, left: Sizes, place: int, room: int, taken: Sizes, passed: Sizes
    ) -> Iterator[tuple[Sizes, Sizes]]:
        self.steps -= 1
        if self.steps <= 0:
            return
        while place < len(left) and left[place] > room:
            passed, place = (*passed, left[place]), place + 1
        if place == len(left):
            if not passed or passed[-1] > room:
                yield taken, passed
            return
        yield from self._fill(left, place + 1, room - left[place], (*taken, left[place]), passed)
        after = place
        while after < len(left) and left[after] == left[place]:
            after += 1
        yield from self._fill(left, after, room, taken, (*passed, *left[place:after]))
