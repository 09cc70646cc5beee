"""The ways through the pages of bills that several tests take."""

from django.test import Client as Browser
from django.urls import reverse

from quoting.agree.models import Contract
from quoting.bill.models import Invoice, Payment


def milestone_address(contract: Contract, place: int = 1) -> str:
    """Where the payment at a place is billed."""
    row = contract.schedule.get(position=place)
    return reverse("bill-milestone", args=[contract.job_id, row.pk])


def bill(browser: Browser, contract: Contract, place: int = 1) -> Invoice:
    """Look at a payment and bill it as a person would."""
    address = milestone_address(contract, place)
    preview = browser.get(address).context["preview"]
    browser.post(address, {"issue": f"ticket-{place}", "shown": preview.key})
    return Invoice.objects.latest("pk")


def pay(browser: Browser, contract: Contract, amount: str, **changed: str) -> Payment:
    """Record a payment, the shares as the page fills them in."""
    address = f"{reverse('payment-new')}?client={contract.client_id}"
    form = browser.get(address).context["form"]
    shares = {name: form[name].value() for name in form.share_keys}
    money = {"amount": amount, "method": "cheque", "received_on": "2026-01-05", "ticket": f"pay-{amount}"}
    browser.post(address, {**shares, **money, **changed})
    return Payment.objects.latest("pk")


def schedule_form(*rows: tuple[str, str], by: str = "amount") -> dict[str, str]:
    """The schedule page's form with these payments to come."""
    form = {"by": by, "row-TOTAL_FORMS": str(len(rows)), "row-INITIAL_FORMS": "0"}
    for place, (name, figure) in enumerate(rows):
        form |= {f"row-{place}-name": name, f"row-{place}-figure": figure}
    return form
