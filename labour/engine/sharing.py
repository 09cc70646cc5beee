"""Hours logged for several tasks together, shared among them without losing a hundredth."""

from collections.abc import Sequence
from decimal import Decimal

_HUNDREDTH = Decimal("0.01")


def share_hours(hours: Decimal, weights: Sequence[float]) -> tuple[Decimal, ...]:
    """Shares of the hours, to the hundredth, as the weights stand to each other; they add up to the hours.

    weights: predicted hours of each task; where all are 0 the shares are even. The hundredths that are left
    over go to the largest remainders, in order. hours: to the hundredth.

    >>> share_hours(Decimal("8.00"), [1.0, 2.0])
    (Decimal('2.67'), Decimal('5.33'))
    """
    if not weights:
        return ()
    total = sum(weights)
    parts = [weight / total for weight in weights] if total > 0 else [1 / len(weights)] * len(weights)
    exact = [float(hours / _HUNDREDTH) * part for part in parts]
    whole = [int(part) for part in exact]
    left = int(hours / _HUNDREDTH) - sum(whole)
    by_remainder = sorted(range(len(exact)), key=lambda place: whole[place] - exact[place])
    for place in by_remainder[:left]:
        whole[place] += 1
    return tuple(count * _HUNDREDTH for count in whole)
