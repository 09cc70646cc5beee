"""An invoice or a credit note as programs exchange it, as plain values."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from labour.engine.refusal import Refusal
from quoting.engine.billing.amounts import Amounts, TaxRate
from quoting.engine.pricing.money import ZERO
from quoting.engine.pricing.values import Category

_WORDS = {
    Category.LABOUR: "labour",
    Category.MATERIAL: "materials",
    Category.SUBCONTRACT: "subcontracted work",
    Category.EQUIPMENT: "equipment",
    Category.DISPOSAL: "disposal",
    Category.PERMIT: "permits",
    Category.ALLOWANCE: "allowances",
}


class BadEInvoice(Refusal):
    """Figures that do not belong together, or something without which there is no invoice."""


@dataclass(frozen=True, slots=True)
class Party:
    """Who bills or is billed. address: its lines. country: two letters of ISO 3166, "" when not known."""

    name: str
    address: tuple[str, ...] = ()
    country: str = ""
    tax_number: str = ""
    email: str = ""


@dataclass(frozen=True, slots=True)
class ELine:
    """A part of the invoice. taxes: all that lie on it. net: before tax, negative for something taken off."""

    description: str
    taxes: tuple[TaxRate, ...]
    net: Decimal


@dataclass(frozen=True, slots=True)
class EInvoice:
    """What is billed or, as a credit note, credited; both with amounts above zero.

    taxes: amount of each tax on the whole. total: with tax; equals lines plus taxes. prepaid: of it, paid
    before.
    order_reference: number of the contract. invoice_reference: the invoice that a credit note corrects.
    """

    number: str
    issued_on: date
    currency: str
    seller: Party
    buyer: Party
    lines: tuple[ELine, ...]
    taxes: Mapping[TaxRate, Decimal]
    total: Decimal
    due_on: date | None = None
    prepaid: Decimal = ZERO
    note: str = ""
    order_reference: str = ""
    invoice_reference: str = ""

    @property
    def net(self) -> Decimal:
        """The lines together."""
        return sum((line.net for line in self.lines), ZERO)

    @property
    def tax(self) -> Decimal:
        """The taxes together."""
        return sum(self.taxes.values(), ZERO)

    @property
    def payable(self) -> Decimal:
        """What is left to pay."""
        return self.total - self.prepaid


def einvoice_lines(amounts: Amounts, title: str) -> tuple[ELine, ...]:
    """One line for each set of taxes that lie on the same part; its words say which kinds of cost it holds.

    A tax of 0 % counts as none. The nets of the lines add up to the net of the amounts.
    """
    nets: dict[tuple[TaxRate, ...], Decimal] = {}
    kinds: dict[tuple[TaxRate, ...], list[str]] = {}
    for part, net in amounts.nets.items():
        taxes = tuple(tax for tax in part.taxes if tax.rate)
        nets[taxes] = nets.get(taxes, ZERO) + net
        kinds.setdefault(taxes, []).append(_WORDS[part.category])
    return tuple(
        ELine(f"{title}: {', '.join(dict.fromkeys(kinds[taxes]))}", taxes, net) for taxes, net in nets.items()
    )
