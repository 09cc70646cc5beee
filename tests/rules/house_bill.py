"""A billed job of a firm: invoice, credit note, release, payment, letter, link; each carries the marker."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from quoting.agree.models import Contract
from quoting.bill.models import (
    AccountLink,
    CreditNote,
    Invoice,
    InvoiceKind,
    Method,
    Payment,
    PaymentShare,
    RetainageRelease,
)
from quoting.documents.models import Letter, LetterStatus
from tests.job_makers import make_amounts, make_paper
from tests.makers import AT
from tests.rules.house_job import LATER, Ground, make_job


@dataclass(frozen=True)
class Bills:
    """A billed job. 40.00 is held back of its invoice, and part of the payment is the client's credit."""

    contract: Contract
    invoice: Invoice
    credit: CreditNote
    release: RetainageRelease
    payment: Payment
    letter: Letter
    account_link: AccountLink


def make_bills(ground: Ground) -> Bills:
    """1208.68 billed of 2417.36, 108.68 credited, 60.00 held back, 20.00 of it released, 600.00 paid."""
    contract, marker, firm = make_job(ground, 5, "2417.36"), ground.marker, ground.site.firm
    invoice = make_invoice(contract, marker)
    payment = make_payment(contract, marker)
    PaymentShare.objects.create(invoice=invoice, payment=payment, amount=Decimal("600.00"), at=AT)
    letter = Letter.objects.create(
        firm=firm,
        about=f"invoice {invoice.number}",
        to=[contract.client.email],
        subject=f"{marker} subject",
        body=f"{marker} body",
        status=LetterStatus.DRAFT,
        created_at=AT,
    )
    letter.papers.add(invoice.paper)
    link: dict[str, Any] = {"nonce": "account", "created_at": AT, "expires_at": LATER}
    return Bills(
        contract=contract,
        invoice=invoice,
        credit=make_credit(invoice, marker),
        release=make_release(invoice, marker),
        payment=payment,
        letter=letter,
        account_link=AccountLink.objects.create(firm=firm, contract=contract, **link),
    )


def make_invoice(contract: Contract, marker: str) -> Invoice:
    """Half of the contract by percent complete."""
    amounts, number = make_amounts("1208.68"), f"{marker}-I1"
    return Invoice.objects.create(
        firm=contract.firm,
        contract=contract,
        kind=InvoiceKind.PROGRESS,
        number=number,
        title=f"{marker} invoice",
        amounts=amounts.to_json(),
        net=amounts.net,
        total=amounts.total,
        retained=Decimal("60.00"),
        progress={"quote-1/strip": "100", "quote-1/tile": "16.67"},
        issued_at=AT,
        issued_on=AT.date(),
        due_on=AT.date(),
        paper=make_paper(contract.firm, "invoice", number),
        e_invoice=f"<Invoice>{marker}</Invoice>",
    )


def make_credit(invoice: Invoice, marker: str) -> CreditNote:
    """Takes part of the invoice back."""
    amounts, number = make_amounts("108.68"), f"{marker}-N1"
    return CreditNote.objects.create(
        firm=invoice.firm,
        invoice=invoice,
        number=number,
        reason=f"{marker} reason",
        amounts=amounts.to_json(),
        net=amounts.net,
        total=amounts.total,
        issued_at=AT,
        issued_on=AT.date(),
        paper=make_paper(invoice.firm, "credit-note", number),
        e_invoice=f"<CreditNote>{marker}</CreditNote>",
    )


def make_release(invoice: Invoice, marker: str) -> RetainageRelease:
    """Part of what is held back is due now."""
    notice = make_paper(invoice.firm, "release", f"{marker}-H1")
    when: dict[str, Any] = {"released_at": AT, "released_on": AT.date()}
    return RetainageRelease.objects.create(
        firm=invoice.firm, invoice=invoice, amount=Decimal("20.00"), notice=notice, **when
    )


def make_payment(contract: Contract, marker: str) -> Payment:
    """More than what its share takes."""
    number = f"{marker}-R1"
    return Payment.objects.create(
        firm=contract.firm,
        client=contract.client,
        number=number,
        amount=Decimal("719.53"),
        method=Method.CHEQUE,
        received_on=AT.date(),
        reference=f"{marker} cheque",
        note=f"{marker} note",
        recorded_at=AT,
        receipt=make_paper(contract.firm, "receipt", number),
    )
