"""Rows of this step as its routes show them."""

from typing import Any

from quoting.agree.models import Contract
from quoting.bill.models import CreditNote, Invoice, Payment
from quoting.bill.papers import tax_words
from quoting.bill.queries import (
    Standing,
    client_credit,
    get_account,
    get_standing,
    list_items,
    percents_billed,
)
from quoting.bill.receivables import Receivables
from quoting.bill.reports import TaxReport
from quoting.engine.pricing.money import ZERO

_INVOICE = ("id", "number", "kind", "title", "issued_on", "due_on", "net", "total", "retained")
_STANDING = ("credited", "held", "paid", "open")
_CREDIT = ("id", "number", "reason", "issued_on", "net", "total", "retained")
_PAYMENT = ("id", "number", "client_id", "amount", "method", "received_on", "reference", "note")
_REPORT = ("start", "end", "invoiced", "credited", "untaxed", "net", "tax", "total")


def show_job(contract: Contract) -> dict[str, Any]:
    """A job's account with its payments and items."""
    before = percents_billed(contract)
    items = [
        {"key": item.key, "label": item.label, "amount": item.amount}
        | {"billed_percent": before.get(item.key, ZERO)}
        for item in list_items(contract)
    ]
    return {
        "job": contract.job.number,
        "client": contract.client.name,
        "client_id": contract.client_id,
        "billing": contract.billing,
        "retainage_percent": contract.retainage_percent,
        "account": get_account(contract),
        "schedule": list(contract.schedule.all()),
        "items": items,
    }


def show_invoice(standing: Standing) -> dict[str, Any]:
    """An invoice in a list."""
    invoice = standing.invoice
    contract = invoice.contract
    return (
        {name: getattr(invoice, name) for name in _INVOICE}
        | {name: getattr(standing, name) for name in _STANDING}
        | {"job_id": contract.job_id, "job": contract.job.number}
        | {"client_id": contract.client_id, "client": contract.client.name}
    )


def show_whole_invoice(invoice: Invoice) -> dict[str, Any]:
    """An invoice with its figures and credit notes."""
    credits_ = invoice.credits.order_by("pk").select_related("invoice", "paper")
    whole = {"amounts": invoice.amounts, "sha256": invoice.paper.sha256}
    return show_invoice(get_standing(invoice)) | whole | {"credits": [show_credit(row) for row in credits_]}


def show_credit(credit: CreditNote) -> dict[str, Any]:
    """A credit note."""
    named = {name: getattr(credit, name) for name in _CREDIT}
    return named | {"invoice": credit.invoice.number, "sha256": credit.paper.sha256}


def show_payment_row(payment: Payment) -> dict[str, Any]:
    """A payment in a list."""
    return {name: getattr(payment, name) for name in _PAYMENT} | {"client": payment.client.name}


def show_payment(payment: Payment) -> dict[str, Any]:
    """A payment with what it counts towards."""
    shares = payment.shares.order_by("pk").select_related("invoice")
    return show_payment_row(payment) | {
        "shares": [{"invoice": share.invoice.number, "amount": share.amount} for share in shares],
        "credit": client_credit(payment.client),
        "sha256": payment.receipt.sha256,
    }


def show_receivables(found: Receivables) -> dict[str, Any]:
    """What is owed to the firm."""
    clients = [
        {
            "client_id": owing.client.pk,
            "client": owing.client.name,
            "total": owing.total,
            "ages": owing.ages,
            "invoices": [show_invoice(standing) for standing in owing.standings],
        }
        for owing in found.clients
    ]
    return {"on": found.on, "total": found.total, "ages": found.ages, "clients": clients}


def show_taxes(report: TaxReport) -> dict[str, Any]:
    """Taxes of a period."""
    taxes = [
        {"name": line.tax.name, "rate": line.tax.rate, "base": line.base, "amount": line.amount}
        for line in report.taxes
    ]
    categories = [
        {"category": line.category.value, "taxes": tax_words(line.taxes), "net": line.net}
        for line in report.categories
    ]
    return {name: getattr(report, name) for name in _REPORT} | {"taxes": taxes, "categories": categories}
