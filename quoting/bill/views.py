"""What the pages about money are given. Rows come in; templates' contexts go out."""

from datetime import date, datetime
from decimal import Decimal
from typing import Any
from uuid import uuid4

from django.utils import timezone

from labour.firm.models import Firm
from quoting.agree.models import Billing, Contract
from quoting.agree.tokens import token_of
from quoting.bill.forms import CreditForm, ReleaseForm
from quoting.bill.links import list_account_links
from quoting.bill.mailing import list_letters
from quoting.bill.models import Invoice
from quoting.bill.papers import tax_words
from quoting.bill.preview import Preview
from quoting.bill.queries import client_credit, get_account, get_standing, list_payments, list_standings
from quoting.clients.models import Client
from quoting.engine.billing.amounts import Amounts


def amounts_view(amounts: Amounts) -> dict[str, Any]:
    """Net by kind of cost and the taxes on it, each tax, and the sums."""
    nets = [
        {"label": f"{part.category.value.capitalize()}, {tax_words(part.taxes) or 'no tax'}", "amount": net}
        for part, net in amounts.nets.items()
    ]
    taxes = [{"name": tax.name, "rate": tax.rate, "amount": sum_} for tax, sum_ in amounts.taxes.items()]
    return {"net_rows": nets, "net": amounts.net, "tax_rows": taxes, "total": amounts.total}


def job_view(contract: Contract, at: datetime) -> dict[str, Any]:
    """A job's payments, bills and links."""
    schedule, account = list(contract.schedule.all()), get_account(contract)
    return {
        "contract": contract,
        "job": contract.job,
        "account": account,
        "too_much": max(-account.to_bill, Decimal("0.00")),
        "schedule": schedule,
        "schedule_total": sum((row.amount for row in schedule), Decimal("0.00")),
        "by_progress": contract.billing == Billing.PROGRESS,
        "standings": list_standings(contract.invoices.order_by("pk")),
        "links": [
            {"link": link, "is_open": link.is_open(at), "token": token_of(link)}
            for link in list_account_links(contract)
        ],
        "release_form": ReleaseForm(auto_id="release_%s"),
        "ticket": uuid4(),
        "on": timezone.localdate(at),
    }


def preview_view(contract: Contract, preview: Preview) -> dict[str, Any]:
    """A bill before it is issued."""
    return {
        "contract": contract,
        "job": contract.job,
        "preview": preview,
        "amounts": amounts_view(preview.bill.amounts),
        "account": preview.account,
        "ticket": uuid4(),
    }


def invoice_view(invoice: Invoice, on: date) -> dict[str, Any]:
    """An invoice and what became of it."""
    return {
        "invoice": invoice,
        "standing": get_standing(invoice),
        "amounts": amounts_view(Amounts.from_json(invoice.amounts)),
        "credits": invoice.credits.order_by("pk"),
        "shares": invoice.shares.select_related("payment").order_by("pk"),
        "releases": invoice.releases.select_related("notice").order_by("pk"),
        "letters": list_letters(invoice),
        "credit_form": CreditForm(),
        "ticket": uuid4(),
        "on": on,
    }


def client_view(client: Client, on: date) -> dict[str, Any]:
    """A client's invoices, payments and credit, over all jobs."""
    invoices = Invoice.objects.of(client.firm).filter(contract__client=client).order_by("-pk")
    standings = list_standings(invoices)
    return {
        "client": client,
        "standings": standings,
        "payments": list_payments(client.firm, client.pk),
        "credit": client_credit(client),
        "owed": sum((row.open for row in standings), Decimal("0.00")),
        "on": on,
        "ticket": uuid4(),
    }


def client_choices(firm: Firm) -> list[tuple[int, str]]:
    """Clients with a contract, by name."""
    rows = Client.objects.of(firm).filter(contracts__isnull=False).distinct().order_by("name", "pk")
    return [(row.pk, row.name) for row in rows]
