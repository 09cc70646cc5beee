"""What an accepted quote settles for later changes: stored figures come in, plain values go out.

Prices a unit for hidden damage, sums set aside for choices, and what each line of the contract is worth when
it is taken back.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from labour.engine.why import Why
from quoting.engine.billing.amounts import Amounts, Slice
from quoting.engine.pricing.money import ZERO, split_by_shares, to_cents
from quoting.engine.pricing.values import Category

OPTION_KEY = "option:"


@dataclass(frozen=True, slots=True)
class AgreedPrice:
    """A price a unit that the client accepted, before tax. shares: of each category in it, in proportion."""

    code: str
    description: str
    unit: str
    price: Decimal
    shares: Mapping[Category, Decimal]


@dataclass(frozen=True, slots=True)
class AgreedAllowance:
    """A sum set aside. included: cost to the firm that the price holds for it."""

    description: str
    included: Decimal


@dataclass(frozen=True, slots=True)
class Creditable:
    """A line or an option as it may be taken back. amount: less its share of the discount, before tax.

    key: of the line, or "option:" and the option's name. nets: amount by slice. cost: what the firm saves.
    """

    key: str
    description: str
    room: str
    quantity: Decimal
    unit: str
    amount: Decimal
    nets: Mapping[Slice, Decimal]
    cost: Decimal
    why: Why


@dataclass(frozen=True, slots=True)
class Agreed:
    """What the quote settles. slices: how the contract taxes each category."""

    number: str
    unit_prices: Mapping[str, AgreedPrice] = field(default_factory=dict)
    allowances: Mapping[str, AgreedAllowance] = field(default_factory=dict)
    credits: Mapping[str, Creditable] = field(default_factory=dict)
    slices: Mapping[Category, Slice] = field(default_factory=dict)


def read_agreed(number: str, figures: Mapping[str, Any], options: Iterable[str]) -> Agreed:
    """What a quote's stored figures settle. options: names that the client took with it.

    A line in whose place a taken option came is not done, so it can not be taken back.
    """
    firm_view, client_view = figures["firm_view"], figures["client_view"]
    amounts = Amounts.from_json(firm_view["amounts"])
    slices = {part.category: part for part in amounts.nets}
    costs = {Category(row["category"]): _cost_share(row) for row in firm_view["categories"]}
    lines = _credits_of_lines(number, firm_view["lines"], amounts, costs)
    taken = frozenset(options)
    chosen = [row for row in firm_view["options"] if row["name"] in taken]
    replaced = {key for row in chosen for key in row.get("replaces", ())}
    credits = [credit for credit in lines if credit.key not in replaced]
    credits += [_credit_of_option(number, row, costs) for row in chosen]
    return Agreed(
        number=number,
        unit_prices=_unit_prices(firm_view, client_view),
        allowances=_allowances(client_view),
        credits={credit.key: credit for credit in credits},
        slices=slices,
    )


def _unit_prices(firm_view: Mapping[str, Any], client_view: Mapping[str, Any]) -> dict[str, AgreedPrice]:
    """The client's list leaves out what has no price; else both lists are in one order."""
    priced = [row for row in firm_view["unit_prices"] if row["price"] is not None]
    return {
        row["code"]: AgreedPrice(
            code=row["code"],
            description=shown["description"],
            unit=shown["unit"],
            price=Decimal(row["price"]),
            shares={Category(name): Decimal(share) for name, share in row["shares"].items()},
        )
        for row, shown in zip(priced, client_view["unit_prices"], strict=True)
    }


def _allowances(client_view: Mapping[str, Any]) -> dict[str, AgreedAllowance]:
    """By description; one that stands twice is one sum."""
    sums: dict[str, Decimal] = {}
    for row in client_view["allowances"]:
        sums[row["description"]] = sums.get(row["description"], ZERO) + Decimal(row["amount"])
    return {name: AgreedAllowance(name, amount) for name, amount in sums.items()}


def _credits_of_lines(
    number: str, lines: Sequence[Mapping[str, Any]], amounts: Amounts, costs: Mapping[Category, Decimal]
) -> list[Creditable]:
    """Each line of the base scope with its share of the discount, so that all together are the base price."""
    nets: list[dict[Slice, Decimal]] = [{} for _ in lines]
    for part, net in amounts.nets.items():
        prices = [_price_in(line, part.category) for line in lines]
        discount = net - sum(prices, ZERO)
        for place, share in enumerate(split_by_shares(discount, [max(price, ZERO) for price in prices])):
            if prices[place] + share:
                nets[place][part] = prices[place] + share
    return [
        _credit_of_line(number, line, net_of, costs)
        for line, net_of in zip(lines, nets, strict=True)
        if net_of
    ]


def _price_in(line: Mapping[str, Any], category: Category) -> Decimal:
    return sum((Decimal(part["price"]) for part in line["parts"] if part["category"] == category), ZERO)


def _credit_of_line(
    number: str, line: Mapping[str, Any], nets: Mapping[Slice, Decimal], costs: Mapping[Category, Decimal]
) -> Creditable:
    amount = sum(nets.values(), ZERO)
    discount = Decimal(line["amount"]) - amount
    worked = f"{line['amount']} − {discount} share of the discount = {amount}" if discount else str(amount)
    prices = ((Category(part["category"]), Decimal(part["price"])) for part in line["parts"])
    return Creditable(
        key=line["key"],
        description=line["description"],
        room=line["room"],
        quantity=Decimal(line["quantity"]),
        unit=line["unit"],
        amount=amount,
        nets=nets,
        cost=to_cents(sum((price * costs[category] for category, price in prices), ZERO)),
        why=Why("the line's price in the quote, less its share of the discount", worked, number),
    )


def _cost_share(total: Mapping[str, Any]) -> Decimal:
    """Cost with overhead and contingency in one unit of a category's price: the same in all its lines."""
    names = ("direct", "purchase_tax", "overhead", "contingency")
    cost, price = sum((Decimal(total[name]) for name in names), ZERO), Decimal(total["price"])
    return cost / price if price else ZERO


def _credit_of_option(
    number: str, option: Mapping[str, Any], costs: Mapping[Category, Decimal]
) -> Creditable:
    """The whole of an option. Its cost is taken at the base scope's share of cost in price."""
    amounts = Amounts.from_json(option["amounts"])
    saved = (net * costs.get(part.category, Decimal(1)) for part, net in amounts.nets.items())
    return Creditable(
        key=f"{OPTION_KEY}{option['name']}",
        description=option["name"],
        room="",
        quantity=Decimal(1),
        unit="each",
        amount=amounts.net,
        nets=amounts.nets,
        cost=to_cents(sum(saved, ZERO)),
        why=Why("the option's price in the quote", str(amounts.net), number),
    )
