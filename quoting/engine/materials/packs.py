"""From what the lines use to what is bought: packs are rounded up once, for the whole job.

Comes in: uses of all lines, and the materials by code. Goes out: one purchase a material, in the order in
which the materials first appear, its cost split over the lines to the cent.
"""

from collections.abc import Mapping, Sequence
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal

from labour.engine.refusal import Problem, Refusal
from labour.engine.why import Why
from quoting.engine.materials.consumption import show
from quoting.engine.materials.values import Material, Purchase, Use
from quoting.engine.pricing.money import split_by_shares, to_cents

_FORMULA = "what the job uses ÷ pack, rounded up once, × price of a pack"
_MILLIONTH = Decimal("0.000001")


class CannotBuy(Refusal):
    """A use names a material that the list does not have, or an amount or pack that makes no sense."""


def buy(uses: Sequence[Use], catalogue: Mapping[str, Material]) -> tuple[Purchase, ...]:
    """What to buy for all uses together.

    packs = sum of amounts ÷ pack size, rounded up; cost = packs × price, split over the line keys by what
    each uses (largest remainder). A missing price leaves cost None and shares empty. Raise `CannotBuy`
    naming the line and the material.
    """
    grouped: dict[str, list[Use]] = {}
    for use in uses:
        _check(use, catalogue)
        grouped.setdefault(use.material_code, []).append(use)
    return tuple(_purchase(catalogue[code], tuple(group)) for code, group in grouped.items())


def whole_packs(amount: Decimal, pack_size: Decimal) -> int:
    """Packs that hold the amount: amount ÷ pack size, rounded up."""
    return int((amount / pack_size).to_integral_value(ROUND_CEILING))


def _check(use: Use, catalogue: Mapping[str, Material]) -> None:
    code = use.material_code
    if code not in catalogue:
        raise CannotBuy(
            Problem(
                use.key, f"uses “{code}”, which the materials list does not have. Add it, or take it out."
            )
        )
    if not use.amount.is_finite() or use.amount < 0:
        raise CannotBuy(Problem(use.key, f"uses {use.amount} of “{code}”; an amount is zero or more."))
    if catalogue[code].pack_size <= 0:
        raise CannotBuy(Problem(code, f"has a pack of {catalogue[code].pack_size}; a pack holds something."))


def _purchase(material: Material, uses: tuple[Use, ...]) -> Purchase:
    # A thirty-digit remainder of a division must not buy one more box.
    amount = sum((use.amount for use in uses), Decimal(0)).quantize(_MILLIONTH, ROUND_HALF_UP)
    packs = whole_packs(amount, material.pack_size)
    cost = None if material.price is None else to_cents(packs * material.price)
    leftover = packs * material.pack_size - amount
    return Purchase(
        material=material,
        amount=amount,
        packs=packs,
        leftover=leftover,
        cost=cost,
        shares={} if cost is None else _shares(cost, uses),
        uses=uses,
        why=Why(_FORMULA, _worked(material, amount, packs, cost, leftover), _source(material)),
    )


def _shares(cost: Decimal, uses: Sequence[Use]) -> dict[str, Decimal]:
    by_key: dict[str, Decimal] = {}
    for use in uses:
        by_key[use.key] = by_key.get(use.key, Decimal(0)) + use.amount
    return dict(zip(by_key, split_by_shares(cost, list(by_key.values())), strict=True))


def _worked(material: Material, amount: Decimal, packs: int, cost: Decimal | None, leftover: Decimal) -> str:
    unit, size = material.content_unit, show(material.pack_size)
    need = f"{show(amount)} {unit} ÷ {size} {unit} → {packs} × {material.pack_name}"
    paid = "price missing" if cost is None else f"{packs} × {material.price} = {cost}"
    return f"{need}; {paid}; {show(leftover)} {unit} left over"


def _source(material: Material) -> str:
    if material.price is None:
        return "catalogue: no price yet"
    on = f", {material.priced_on.isoformat()}" if material.priced_on else ""
    return f"catalogue{on}" + (f", {material.supplier}" if material.supplier else "")
