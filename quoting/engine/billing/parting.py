"""A part of a sum of money with its taxes: how much of each net slice and of each tax is in it.

Comes in: the `Amounts` that a part is taken of, and the part's total. Goes out: the part's `Amounts`.
Each net slice and each tax is a component.

    all of it    = exactly its components, those below zero too
    part of it   : net split over the slices above zero by largest remainder, in proportion;
                   each tax = tax of the whole − rate × base that stays behind, rounded to the cent;
                   net + taxes = the part's total
    otherwise    = the total split by largest remainder over all components above zero

No component of a part is below zero, no net above what there was, and parts that use up the whole add up to
its components to the cent. What stays behind keeps its tax in step with its base, so that ever so many small
parts do not leave a wrong tax to the last one.
"""

from collections.abc import Mapping
from decimal import Decimal

from quoting.engine.billing.amounts import NOTHING, Amounts, Slice, TaxRate
from quoting.engine.pricing.money import ZERO, split_by_shares, to_cents

_ROUNDS = 12
"""Net and taxes are brought into step by turns; each turn cuts the gap down to its rate."""


def take_part(whole: Amounts, total: Decimal) -> Amounts:
    """The part of `whole` that comes to `total`. Needs 0 < total ≤ whole.total, checked by the caller."""
    if total == whole.total:
        return whole
    room = _above_zero(whole.nets)
    there = sum(room.values(), ZERO)
    net = min(to_cents(total * there / (there + max(whole.tax, ZERO))), total) if there else ZERO
    for _ in range(_ROUNDS):
        taxes = _taxes_beside(whole, _split(room, net))
        before, net = net, total - sum(taxes.values(), ZERO)
        if not 0 <= net <= there:
            return _in_proportion(whole, total)
        if net == before:
            break
    return Amounts(_split(room, net), taxes)


def take_back(standing: Amounts, to_bill: Amounts, total: Decimal) -> Amounts:
    """The part of a bill that a credit of `total` takes back. Needs 0 < total ≤ standing.total.

    First what the contract no longer has: slices of which too much is billed (below zero in `to_bill`), with
    their taxes. The rest is a part of what else stands of the bill.
    """
    if total == standing.total:
        return standing
    nets = _above_zero({part: min(net, -to_bill.nets.get(part, ZERO)) for part, net in standing.nets.items()})
    lost, there = _taxes_beside(-to_bill, nets), _taxes_beside(standing, nets)
    most = {tax: max(there.get(tax, ZERO), standing.taxes.get(tax, ZERO)) for tax in lost}
    over = Amounts(nets, _above_zero({tax: min(lost[tax], most[tax]) for tax in lost}))
    if total <= over.total:
        return take_part(over, total)
    return over + take_part(standing - over, total - over.total)


def base_of(amounts: Amounts, tax: TaxRate) -> Decimal:
    """Net that a tax lies on."""
    return sum((net for part, net in amounts.nets.items() if tax in part.taxes), ZERO)


def _taxes_beside(whole: Amounts, nets: Mapping[Slice, Decimal]) -> dict[TaxRate, Decimal]:
    """Taxes of a part with these nets, never below zero, so that what stays behind is taxed right."""
    behind = whole - Amounts(nets)
    on_parts = {tax: ZERO for part in whole.nets for tax in part.taxes} | dict(whole.taxes)
    return _above_zero(
        {tax: amount - to_cents(base_of(behind, tax) * tax.rate / 100) for tax, amount in on_parts.items()}
    )


def _in_proportion(whole: Amounts, total: Decimal) -> Amounts:
    nets, taxes = _above_zero(whole.nets), _above_zero(whole.taxes)
    pieces = split_by_shares(total, [*nets.values(), *taxes.values()])
    return NOTHING + Amounts(
        dict(zip(nets, pieces[: len(nets)], strict=True)), dict(zip(taxes, pieces[len(nets) :], strict=True))
    )


def _split(room: Mapping[Slice, Decimal], total: Decimal) -> dict[Slice, Decimal]:
    pieces = split_by_shares(total, list(room.values()))
    return _above_zero(dict(zip(room, pieces, strict=True)))


def _above_zero[KeyT](components: Mapping[KeyT, Decimal]) -> dict[KeyT, Decimal]:
    return {key: amount for key, amount in components.items() if amount > 0}
