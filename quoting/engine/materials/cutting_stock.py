"""Base, casing and profile from lengths that are sold: pieces and stock come in; what to cut goes out.

Lengths are inches. A bar gives its pieces one after the other, with a cut between; the last cut is saved when
the pieces fill the bar to its end.
"""

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from labour.engine.refusal import Problem, Refusal
from labour.engine.why import Why
from quoting.engine.materials.cutting_search import Filled, Kind, cheapest
from quoting.engine.measure.lengths import PER_UNIT

MOST_PIECES = 999
SHORTEST_END = 16.0
"""A run that is spliced ends with a piece at least this long, in: one stud space (common practice)."""

_PER_INCH = int(PER_UNIT["in"])
_PRICE_PARTS = 10_000


class CannotCut(Refusal):
    """A piece is longer than what is sold, or a length makes no sense."""


@dataclass(frozen=True, slots=True)
class Stock:
    """A length that is sold. length: in. price: of one, None while it is not known."""

    length: float
    price: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Bar:
    """One stock length, the pieces cut from it (in, longest first), and what is left of it, in."""

    stock: Stock
    pieces: tuple[float, ...]
    left: float


@dataclass(frozen=True, slots=True)
class CutPlan:
    """What to buy and how to cut it.

    cost: None when a length that is bought has no price. bought, used: in, all together. is_proven: no other
    way is cheaper (or shorter in all, while prices are missing).
    """

    bars: tuple[Bar, ...]
    cost: Decimal | None
    bought: float
    used: float
    is_proven: bool
    why: Why

    @property
    def waste(self) -> float:
        """Share of what is bought that is on no wall."""
        return 1 - self.used / self.bought if self.bought else 0.0


def cut_stock(lengths: Sequence[float], stock: Stock | Sequence[Stock], kerf: float = 0.0) -> CutPlan:
    """The cheapest bars that give all lengths; where a price is missing, the least length in all.

    Up to 12 pieces the answer is exact (branch and bound), up to 20 mostly; beyond that first-fit-decreasing,
    improved by cutting groups of bars anew. The plan says whether it is proven. kerf: width of the saw's cut,
    in. Raise `CannotCut` naming the piece, the stock or the kerf.
    """
    sold = (stock,) if isinstance(stock, Stock) else tuple(stock)
    _check(lengths, sold, kerf)
    cut = _units(kerf)
    kinds = _kinds(sold, cut)
    sizes = [_units(length) + cut for length in lengths]
    _check_fit(sizes, lengths, kinds, sold)
    filling, is_proven = cheapest(sizes, kinds) if sizes else ((), True)
    by_size = dict(zip(sizes, lengths, strict=True))
    bars = tuple(_bar(filled, sold, by_size, kerf) for filled in _in_order(filling, sold))
    prices = [bar.stock.price for bar in bars if bar.stock.price is not None]
    return CutPlan(
        bars=bars,
        cost=sum(prices, Decimal(0)) if len(prices) == len(bars) else None,
        bought=math.fsum(bar.stock.length for bar in bars),
        used=math.fsum(lengths),
        is_proven=is_proven,
        why=_why(bars, lengths, kerf, is_proven),
    )


def splice(length: float, longest: float) -> tuple[float, ...]:
    """A run in pieces none of which is longer than the longest stock: full lengths and the rest.

    The rest is at least SHORTEST_END; the piece before it gives what it lacks. Source: common practice.

    >>> splice(200.0, 96.0)
    (96.0, 88.0, 16.0)
    """
    full = math.ceil(length / longest) - 1
    rest = length - full * longest
    if full < 1:
        return (length,)
    short = max(min(SHORTEST_END, longest / 2) - rest, 0.0)
    return (*[longest] * (full - 1), longest - short, rest + short)


def _units(length: float) -> int:
    """The tape's own grid (1/320 mm), on which every fraction of an inch to 1/64 is whole."""
    return math.floor(length * _PER_INCH + 0.5)


def _kinds(sold: Sequence[Stock], cut: int) -> list[Kind]:
    """Bars weigh their price, or their length while a price is missing, in the largest whole unit."""
    lengths = [_units(one.length) for one in sold]
    prices = [int(one.price * _PRICE_PARTS) for one in sold if one.price is not None]
    weights = prices if len(prices) == len(sold) and any(prices) else lengths
    whole = math.gcd(*weights)
    return [Kind(length + cut, weight // whole) for length, weight in zip(lengths, weights, strict=True)]


def _check(lengths: Sequence[float], sold: Sequence[Stock], kerf: float) -> None:
    problems = [] if sold else [Problem("stock", "At least one length must be sold.")]
    named = [(f"lengths[{place}]", length) for place, length in enumerate(lengths)]
    named += [(f"stock[{place}].length", one.length) for place, one in enumerate(sold)]
    problems += [
        Problem(name, f"A length is above zero and finite, not {length:g}.")
        for name, length in named
        if not (math.isfinite(length) and _units(length) > 0)
    ]
    problems += [
        Problem(f"stock[{place}].price", f"A price is zero or more, not {one.price}.")
        for place, one in enumerate(sold)
        if one.price is not None and not (one.price.is_finite() and one.price >= 0)
    ]
    if not (math.isfinite(kerf) and 0 <= kerf <= 1):
        problems.append(Problem("kerf", f"A saw's cut is from 0 to 1 in wide, not {kerf:g}."))
    if len(lengths) > MOST_PIECES:
        problems.append(Problem("lengths", f"At most {MOST_PIECES} pieces at once, not {len(lengths)}."))
    if problems:
        raise CannotCut(*problems)


def _check_fit(
    sizes: Sequence[int], lengths: Sequence[float], kinds: Sequence[Kind], sold: Sequence[Stock]
) -> None:
    room, longest = max(kind.room for kind in kinds), max(one.length for one in sold)
    problems = [
        Problem(
            f"lengths[{place}]",
            f"{lengths[place]:g} in is longer than the longest stock, {longest:g} in. Splice it.",
        )
        for place, size in enumerate(sizes)
        if size > room
    ]
    if problems:
        raise CannotCut(*problems)


def _in_order(filling: Sequence[Filled], sold: Sequence[Stock]) -> list[Filled]:
    return sorted(filling, key=lambda bar: (-sold[bar.kind].length, tuple(-size for size in bar.sizes)))


def _bar(filled: Filled, sold: Sequence[Stock], by_size: dict[int, float], kerf: float) -> Bar:
    stock = sold[filled.kind]
    pieces = tuple(by_size[size] for size in filled.sizes)
    return Bar(stock, pieces, max(stock.length - math.fsum(pieces) - kerf * len(pieces), 0.0))


def _why(bars: Sequence[Bar], lengths: Sequence[float], kerf: float, is_proven: bool) -> Why:
    counted = Counter(bar.stock.length for bar in bars)
    bought = " + ".join(f"{times} × {length:g} in" for length, times in counted.items()) or "nothing"
    used = math.fsum(lengths)
    worked = f"pieces: {len(lengths)}, {used:g} in in all, cuts of {kerf:g} in: {bought}"
    proof = "no cheaper way exists" if is_proven else "the best way found; a cheaper one may exist"
    return Why("cheapest stock lengths from which all pieces can be cut", f"{worked}; {proof}", "geometry")
