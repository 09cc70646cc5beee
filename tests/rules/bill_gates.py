"""Who may pass which address of bills, payments, reports and a client's account."""

from collections.abc import Mapping
from typing import Any

from tests.rules.gate import Gate, Of, office, public

# What real forms and programs send. Each changes something when the firm's own owner sends it.
_PRESS = {"press": "yes"}
_TICKET = {"ticket": "walk"}
_REASON = {"reason": "Taken over", "total": "10.00", "ticket": "walk"}
_MONEY = {"amount": "12.00", "method": "cash", "received_on": Of("today"), "ticket": "walk"}
_LETTER = {"to": "ada@example.com", "subject": "Taken over", "body": "Taken over"}
_SCHEDULE = {
    "by": "amount", "row-TOTAL_FORMS": "1", "row-INITIAL_FORMS": "0",
    "row-0-name": "Taken over", "row-0-figure": "2223.29",
}  # fmt: skip
_ROWS = {"rows": [{"name": "Taken over", "amount": "2223.29"}]}
_STRIPPED = {"percents": {"quote-1/strip": "100"}}

_JOB: Mapping[str, str] = {"job_id": "jobs.contract.job_id"}
_BILLED: Mapping[str, str] = {"job_id": "bills.contract.job_id"}
_INVOICE: Mapping[str, str] = {"invoice_id": "bills.invoice.pk"}
_CREDIT: Mapping[str, str] = {"credit_id": "bills.credit.pk"}
_RELEASE: Mapping[str, str] = {"release_id": "bills.release.pk"}
_CLIENT: Mapping[str, str] = {"client_id": "client.pk"}
_PAYMENT: Mapping[str, str] = {"payment_id": "bills.payment.pk"}
_LINK: Mapping[str, str] = {"link_id": "bills.account_link.pk"}
_WRONG: Mapping[str, str] = {"token": "=wrong-token"}
_PERIOD: Mapping[str, str] = {"start": "=2026-01-01", "end": "=2026-12-31"}


def _issue(shown: str, **more: str) -> dict[str, Any]:
    """The button that issues a bill of the total and the retainage that were shown."""
    return {"issue": "walk", "shown": shown} | more


BILL_GATES: dict[str, Gate] = {
    "job-bills": office(**_JOB),
    "bill-milestone": office(_issue("374.66/0.00"), row_id="jobs.deposit.pk", **_JOB),
    "bill-progress": office(_issue("749.32/37.47", percent_0="100"), **_JOB),
    "bill-final": office(_issue("2223.29/0.00"), **_JOB),
    "retainage-release": office({"total": "10.00"} | _TICKET, **_BILLED),
    "job-statement": office(_TICKET, **_BILLED),
    "job-schedule": office(_SCHEDULE, **_JOB),
    "account-link-make": office(_PRESS, **_JOB),
    "account-link-revoke": office(_PRESS, **_BILLED, **_LINK),
    "invoices": office(),
    "invoice": office(**_INVOICE),
    "invoice-paper": office(**_INVOICE),
    "invoice-xml": office(**_INVOICE),
    "invoice-credit": office(_REASON, **_INVOICE),
    "invoice-send": office(_TICKET, **_INVOICE),
    "invoice-remind": office(_TICKET, **_INVOICE),
    "credit-paper": office(**_CREDIT),
    "credit-xml": office(**_CREDIT),
    "release-paper": office(**_RELEASE),
    "letter": office(_LETTER, letter_id="bills.letter.pk"),
    "payments": office(),
    "payment-new": office(_MONEY).asking(client="client.pk"),
    "payment": office(**_PAYMENT),
    "receipt-paper": office(**_PAYMENT),
    "client-account": office(_MONEY, **_CLIENT),
    "credit-use": office(_TICKET, **_CLIENT),
    "receivables": office(),
    "sales-tax": office(),
    "invoices-csv": office(),
    "credits-csv": office(),
    "payments-csv": office(),
    "taxes-csv": office(),
    "account-public": public(**_WRONG),
    "account-invoice": public(**_INVOICE, **_WRONG),
    "account-credit": public(**_CREDIT, **_WRONG),
    "account-release": public(**_RELEASE, **_WRONG),
    "api:read_account": office(**_BILLED),
    "api:plan_payments": office(_ROWS, **_JOB),
    "api:bill_milestone": office({"row": Of("jobs.deposit.pk")}, **_JOB),
    "api:bill_progress": office(_STRIPPED, **_JOB),
    "api:bill_rest": office(_TICKET, **_JOB),
    "api:release_retainage": office({"total": "10.00"}, **_BILLED),
    "api:issue_statement": office(_TICKET, **_BILLED),
    "api:get_invoices": office(),
    "api:read_invoice": office(**_INVOICE),
    "api:read_e_invoice": office(**_INVOICE),
    "api:credit_invoice": office(_REASON, **_INVOICE),
    "api:read_credit_note": office(**_CREDIT),
    "api:send_invoice": office(_TICKET, **_INVOICE),
    "api:draft_reminder": office(_TICKET, **_INVOICE),
    "api:read_bill_paper": office(kind="=invoice", number="bills.invoice.number"),
    "api:record_payment": office(_MONEY, **_CLIENT),
    "api:refund_client": office(_MONEY, **_CLIENT),
    "api:read_credit": office(**_CLIENT),
    "api:use_credit": office(_TICKET, **_CLIENT),
    "api:get_payments": office(),
    "api:read_payment": office(**_PAYMENT),
    "api:read_receivables": office(),
    "api:read_taxes": office().asking(**_PERIOD),
    "api:read_export": office(name="=invoices").asking(**_PERIOD),
    "api:get_account_links": office(**_BILLED),
    "api:make_account_link": office(_PRESS, **_JOB),
    "api:withdraw_account_link": office(_PRESS, **_LINK),
}
