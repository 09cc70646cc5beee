"""What the routes of bills and payments give."""

from datetime import date, datetime
from typing import Any

from ninja import Schema
from pydantic import Field

from labour.firm.api_values import Amount, DecimalText


class AccountOut(Schema):
    """A job's money. contract_sum = quote_total + changes = billed − credited + to_bill.

    owed = billed − credited − retained − paid. All with tax.
    """

    quote_total: Amount
    changes: Amount
    contract_sum: Amount
    billed: Amount
    credited: Amount
    retained: Amount
    paid: Amount
    owed: Amount
    to_bill: Amount


class ScheduleRowOut(Schema):
    """A payment of the contract."""

    id: int
    name: str
    amount: Amount
    is_deposit: bool
    is_billed: bool


class ItemOut(Schema):
    """What percent complete is told for. billed_percent: as it was last billed."""

    key: str
    label: str
    amount: Amount
    billed_percent: DecimalText


class JobAccountOut(Schema):
    """A job's account with its payments and items."""

    job: str
    client: str
    client_id: int
    billing: str
    retainage_percent: DecimalText
    account: AccountOut
    schedule: list[ScheduleRowOut]
    items: list[ItemOut]


class InvoiceRowOut(Schema):
    """An invoice as it stands: open = total − credited − held − paid."""

    id: int
    number: str
    kind: str
    title: str
    job_id: int
    job: str
    client_id: int
    client: str
    issued_on: date
    due_on: date
    net: Amount
    total: Amount
    retained: Amount
    credited: Amount
    held: Amount
    paid: Amount
    open: Amount


class InvoicePage(Schema):
    """One page of invoices, newest first; `older` is the `before` of the next one."""

    invoices: list[InvoiceRowOut]
    older: int | None


class CreditOut(Schema):
    """A credit note; its amounts are positive."""

    id: int
    number: str
    invoice: str
    reason: str
    issued_on: date
    net: Amount
    total: Amount
    retained: Amount
    sha256: str


class InvoiceOut(InvoiceRowOut):
    """An invoice with its figures and credit notes. amounts: net by category and taxes, and each tax."""

    amounts: dict[str, Any]
    sha256: str = Field(description="Hash of the kept PDF")
    credits: list[CreditOut]


class PaperOut(Schema):
    """A paper that was issued. context: the figures that it shows."""

    id: int
    kind: str
    number: str
    sha256: str
    issued_at: datetime
    context: dict[str, Any]


class LetterOut(Schema):
    """A letter and where it stands: draft, waiting, sent or failed."""

    id: int
    status: str
    to: list[str]
    subject: str
    body: str


class PaymentShareOut(Schema):
    """What of a payment counts towards an invoice."""

    invoice: str
    amount: Amount


class PaymentOut(Schema):
    """A payment, or a refund with a negative amount. credit: what the client has to their credit now."""

    id: int
    number: str
    client_id: int
    client: str
    amount: Amount
    method: str
    received_on: date
    reference: str
    note: str
    shares: list[PaymentShareOut]
    credit: Amount
    sha256: str


class PaymentRowOut(Schema):
    """A payment in a list."""

    id: int
    number: str
    client_id: int
    client: str
    amount: Amount
    method: str
    received_on: date
    reference: str


class ClientCreditOut(Schema):
    """What a client has paid that counts towards no invoice."""

    client_id: int
    credit: Amount


class OwingOut(Schema):
    """What a client owes, by how late it is."""

    client_id: int
    client: str
    total: Amount
    ages: dict[str, Amount]
    invoices: list[InvoiceRowOut]


class ReceivablesOut(Schema):
    """What is owed to the firm on a day."""

    on: date
    total: Amount
    ages: dict[str, Amount]
    clients: list[OwingOut]


class TaxLineOut(Schema):
    """A tax: on what net, and how much."""

    name: str
    rate: DecimalText
    base: Amount
    amount: Amount


class CategoryLineOut(Schema):
    """Net of one kind of cost under the same taxes."""

    category: str
    taxes: str
    net: Amount


class TaxReportOut(Schema):
    """Taxes of a period: invoiced − credited = total = net + tax; categories add up to net."""

    start: date
    end: date
    taxes: list[TaxLineOut]
    categories: list[CategoryLineOut]
    invoiced: Amount
    credited: Amount
    untaxed: Amount
    net: Amount
    tax: Amount
    total: Amount


class AccountLinkOut(Schema):
    """A client's private address of the job's bills."""

    id: int
    address: str
    created_at: datetime
    expires_at: datetime
    revoked_at: datetime | None
    last_opened_at: datetime | None
