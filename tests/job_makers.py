"""Makers of jobs with a contract, without the way through an offer: a test names only what matters."""

import hashlib
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

import pytest

from labour.firm.models import Firm
from labour.ratebook.models import TaskRow
from labour.work.models import Job
from quoting.agree.models import Acceptance, Billing, Contract, ContractPart, PartKind, ScheduleRow
from quoting.clients.models import Client
from quoting.documents.models import IssuedPaper
from quoting.documents.paper import render_html
from quoting.engine.billing.amounts import Amounts, Slice, TaxRate
from quoting.engine.pricing.money import split_by_shares, to_cents
from quoting.engine.pricing.values import Category
from quoting.offer.models import Quote, Status
from quoting.price.models import PriceSettings
from tests.makers import AT, make_client, make_prices, make_site, make_task
from tests.quote_makers import make_quote

TAX = TaxRate("Sales tax", Decimal(7))
SCHEDULE = (("Deposit", "20"), ("Tile set", "50"), ("At the end", "30"))


def make_amounts(total: str = "1000.00", taxed: str = "0.00") -> Amounts:
    """A sum with tax: `taxed` is the net of materials with 7 % on it, the rest is labour without tax."""
    material = Decimal(taxed)
    tax = to_cents(material * TAX.rate / 100)
    nets = {
        Slice(Category.LABOUR): Decimal(total) - material - tax,
        Slice(Category.MATERIAL, (TAX,)): material,
    }
    return Amounts({part: net for part, net in nets.items() if net}, {TAX: tax} if tax else {})


def make_contract(
    firm: Firm,
    total: str = "1000.00",
    taxed: str = "0.00",
    *,
    client: Client | None = None,
    schedule: Sequence[tuple[str, str]] = SCHEDULE,
    billing: Billing = Billing.MILESTONES,
    retainage: str = "0",
) -> Contract:
    """A job that was agreed for `total` with tax. schedule: name and percent; "Deposit…" is the deposit.

    The contract has one part with the items "strip" (40 %) and "tile" (60 %).
    """
    client = client or make_client(firm, email="ada@example.com", address="4 Wharf Row")
    quote = make_accepted_quote(firm, client, total)
    number = f"J-{Job.objects.of(firm).count() + 1:04d}"
    job = Job.objects.create(
        firm=firm,
        number=number,
        title="Hall bath",
        client_name=client.name,
        address="4 Wharf Row",
        created_at=AT,
    )
    contract = Contract.objects.create(
        firm=firm,
        job=job,
        client=client,
        acceptance=make_acceptance(quote),
        quote_total=Decimal(total),
        billing=billing,
        retainage_percent=Decimal(retainage),
        agreed_at=AT,
    )
    add_part(contract, make_amounts(total, taxed), PartKind.QUOTE)
    make_schedule(contract, schedule)
    return contract


def add_part(
    contract: Contract, amounts: Amounts, kind: PartKind = PartKind.CHANGE, label: str = ""
) -> ContractPart:
    """A part of the contract sum, with the items "strip" (40 %) and "tile" (60 %); no payment is planned."""
    position = contract.parts.count() + 1
    shares = split_by_shares(amounts.total, [Decimal(40), Decimal(60)])
    names = (("strip", "Strip out"), ("tile", "Tile"))
    return ContractPart.objects.create(
        contract=contract,
        position=position,
        kind=kind,
        label=label or str(kind.label),
        amounts=amounts.to_json(),
        items=[
            {"key": key, "label": words, "amount": str(share)}
            for (key, words), share in zip(names, shares, strict=True)
        ],
        total=amounts.total,
    )


def make_schedule(contract: Contract, schedule: Sequence[tuple[str, str]]) -> None:
    """The contract's payments, by name and percent of the accepted total."""
    amounts = split_by_shares(contract.quote_total, [Decimal(percent) for _, percent in schedule])
    for place, ((name, _), amount) in enumerate(zip(schedule, amounts, strict=True), start=1):
        ScheduleRow.objects.create(
            contract=contract, position=place, name=name, amount=amount, is_deposit=name.startswith("Deposit")
        )


def make_accepted_quote(firm: Firm, client: Client, total: str) -> Quote:
    """A quote that was sent and accepted. The firm gets price settings and a task if it has none."""
    if not PriceSettings.objects.of(firm).exists():
        make_prices(firm)
    task = TaskRow.objects.of(firm).first() or make_task(firm)
    number = f"Q-{Quote.objects.of(firm).count() + 1:04d}"
    quote = make_quote(make_site(firm, client=client), task, number=number)
    quote.status, quote.sent_at, quote.total = Status.ACCEPTED, AT, Decimal(total)
    quote.paper = make_paper(firm, "quote", quote.number)
    quote.save()
    return quote


def make_acceptance(quote: Quote) -> Acceptance:
    """The client's signature under a quote."""
    return Acceptance.objects.create(
        firm=quote.firm,
        quote=quote,
        name="Ada Brook",
        signature={"typed": "Ada Brook"},
        wording="I accept this offer.",
        signed_at=AT,
        shown_sha256=quote.paper.sha256,
        executed=make_paper(quote.firm, "executed-quote", quote.number),
        total=quote.total,
    )


def make_paper(firm: Firm, kind: str, number: str) -> IssuedPaper:
    """A paper as if it had been issued; its bytes are no real PDF."""
    pdf = f"%PDF-1.7 {kind} {number}".encode()
    return IssuedPaper.objects.create(
        firm=firm,
        kind=kind,
        number=number,
        pdf=pdf,
        sha256=hashlib.sha256(pdf).hexdigest(),
        fingerprint={},
        issued_at=AT,
    )


def print_quickly(monkeypatch: pytest.MonkeyPatch) -> None:
    """Papers are kept as HTML, not set as PDF: for tests that are about figures, and issue many."""

    def render(template: str, context: Mapping[str, Any], **_: Any) -> bytes:
        return render_html(template, context).encode()

    monkeypatch.setattr("quoting.documents.services.render_paper", render)
