"""A sum of money taken apart: net by cost category and by the taxes on it, and each tax by itself.

Everything that is agreed, billed or credited is an `Amounts`, so that every bill can say its taxes and all
bills together say the contract's, to the cent.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from quoting.engine.pricing.money import ZERO
from quoting.engine.pricing.values import Category, SalesTax, TaxAmount


@dataclass(frozen=True, slots=True, order=True)
class TaxRate:
    """A tax as it was when the price was made. rate: percent. Two rates of one name are two taxes."""

    name: str
    rate: Decimal


@dataclass(frozen=True, slots=True, order=True)
class Slice:
    """A part of the net: what it was paid for, and the taxes that lie on it, in their order."""

    category: Category
    taxes: tuple[TaxRate, ...] = ()


@dataclass(frozen=True, slots=True)
class Amounts:
    """Net by slice and amount by tax, all to the cent. total = net + tax. A credit is negative."""

    nets: Mapping[Slice, Decimal] = field(default_factory=dict)
    taxes: Mapping[TaxRate, Decimal] = field(default_factory=dict)

    @property
    def net(self) -> Decimal:
        """Before tax."""
        return sum(self.nets.values(), ZERO)

    @property
    def tax(self) -> Decimal:
        """All taxes together."""
        return sum(self.taxes.values(), ZERO)

    @property
    def total(self) -> Decimal:
        """With tax: what the client pays."""
        return self.net + self.tax

    def __add__(self, other: "Amounts") -> "Amounts":
        return Amounts(_sum(self.nets, other.nets), _sum(self.taxes, other.taxes))

    def __neg__(self) -> "Amounts":
        return Amounts(
            {part: -net for part, net in self.nets.items()}, {tax: -sum_ for tax, sum_ in self.taxes.items()}
        )

    def __sub__(self, other: "Amounts") -> "Amounts":
        return self + -other

    def to_json(self) -> dict[str, Any]:
        """As it is stored."""
        return {
            "nets": [
                {"category": part.category.value, "taxes": list(map(_tax_json, part.taxes)), "net": str(net)}
                for part, net in self.nets.items()
            ],
            "taxes": [_tax_json(tax) | {"amount": str(amount)} for tax, amount in self.taxes.items()],
        }

    @classmethod
    def from_json(cls, stored: Mapping[str, Any]) -> "Amounts":
        """What `to_json` stored."""
        return cls(
            nets={
                Slice(Category(row["category"]), tuple(map(_tax_of, row["taxes"]))): Decimal(row["net"])
                for row in stored["nets"]
            },
            taxes={_tax_of(row): Decimal(row["amount"]) for row in stored["taxes"]},
        )


NOTHING = Amounts()


def add_up(many: Iterable[Amounts]) -> Amounts:
    """All of them together."""
    nets: dict[Slice, Decimal] = {}
    taxes: dict[TaxRate, Decimal] = {}
    for amounts in many:
        for part, net in amounts.nets.items():
            nets[part] = nets.get(part, ZERO) + net
        for tax, amount in amounts.taxes.items():
            taxes[tax] = taxes.get(tax, ZERO) + amount
    return Amounts(_without_nothing(nets), _without_nothing(taxes))


def amounts_of(
    nets: Mapping[Category, Decimal], taxes: Sequence[TaxAmount], sales_taxes: Sequence[SalesTax]
) -> Amounts:
    """A price as amounts. nets: by category, after discount. taxes: as the price has them.

    sales_taxes: says which categories each tax lies on. A category or tax of nothing is left out.
    """
    rates = {tax.name: TaxRate(tax.name, tax.rate) for tax in sales_taxes}

    def slice_of(category: Category) -> Slice:
        return Slice(category, tuple(rates[tax.name] for tax in sales_taxes if category in tax.categories))

    return Amounts(
        nets={slice_of(category): net for category, net in nets.items() if net},
        taxes={rates[tax.name]: tax.amount for tax in taxes if tax.amount},
    )


def _sum[KeyT](one: Mapping[KeyT, Decimal], other: Mapping[KeyT, Decimal]) -> dict[KeyT, Decimal]:
    """Key by key; what comes to nothing is left out."""
    return _without_nothing({key: one.get(key, ZERO) + other.get(key, ZERO) for key in (*one, *other)})


def _without_nothing[KeyT](sums: Mapping[KeyT, Decimal]) -> dict[KeyT, Decimal]:
    return {key: amount for key, amount in sums.items() if amount}


def _tax_json(tax: TaxRate) -> dict[str, str]:
    return {"name": tax.name, "rate": f"{tax.rate:f}"}


def _tax_of(stored: Mapping[str, Any]) -> TaxRate:
    return TaxRate(stored["name"], Decimal(stored["rate"]))
