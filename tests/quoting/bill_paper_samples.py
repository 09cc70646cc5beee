"""What each paper about money is given, in the numbers of one small job worked by hand.

Quote 10,000.00, change 1,000.00, contract 11,000.00. Deposit 3,000.00; second bill 4,400.00 of which 10 % is
held; 200.00 of it is credited. Sales tax 10 %, so net is total ÷ 1.1.
"""

from typing import Any

FIRM = {
    "name": "Harbor Lane Baths",
    "address": "12 Harbor Lane\nEast Quay",
    "phone": "555-0142",
    "email": "office@harborlane.example.com",
    "licence_text": "Contractor registration 000000",
    "currency": "USD",
    "paper": "letter",
    "units": "us",
    "country": "US",
    "tax_number": "00-0000000",
}
CLIENT = {
    "name": "Noor and Felix Abernathy-Lindqvist",
    "address": "208 Quarry Road\nEast Quay",
    "email": "noor@example.com",
    "phone": "555-0177",
}
JOB = {"number": "J-0007", "title": "Hall bath to the studs", "address": "208 Quarry Road\nEast Quay"}
TAX = {"name": "Sales tax", "rate": "10.000"}


def invoice_context() -> dict[str, Any]:
    """The second bill: 4,400.00 of which 440.00 is held back."""
    return {
        "firm": FIRM,
        "client": CLIENT,
        "job": JOB,
        "invoice": {
            "number": "I-0002",
            "title": "Walls closed and waterproofed",
            "kind": "milestone",
            "issued_on": "2026-11-23",
            "due_on": "2026-12-07",
        },
        "lines": [{"label": "Work and materials with Sales tax 10%", "amount": "4000.00"}],
        "progress": [],
        "net": "4000.00",
        "taxes": [TAX | {"amount": "400.00"}],
        "total": "4400.00",
        "retained": "440.00",
        "due_now": "3960.00",
        "statement": {
            "contract_sum": "11000.00",
            "billed_before": "3000.00",
            "this": "4400.00",
            "credited": "0.00",
            "retained": "440.00",
            "paid": "3000.00",
            "to_come": "3600.00",
            "owed": "3960.00",
        },
    }


def deposit_context() -> dict[str, Any]:
    """The first bill: the deposit of 3,000.00."""
    invoice = {"number": "I-0001", "title": "Deposit", "kind": "deposit"}
    statement = {"contract_sum": "11000.00", "billed_before": "0.00", "this": "3000.00", "credited": "0.00"}
    return invoice_context() | {
        "invoice": invoice | {"issued_on": "2026-11-02", "due_on": "2026-11-16"},
        "lines": [{"label": "Work and materials with Sales tax 10%", "amount": "2727.27"}],
        "net": "2727.27",
        "taxes": [TAX | {"amount": "272.73"}],
        "total": "3000.00",
        "retained": "0.00",
        "due_now": "3000.00",
        "statement": statement
        | {"paid": "0.00", "to_come": "8000.00", "owed": "3000.00", "retained": "0.00"},
    }


def credit_note_context() -> dict[str, Any]:
    """200.00 of the second bill taken back; 20.00 of it had been held."""
    names = {name: value for name, value in invoice_context().items() if name in ("firm", "client", "job")}
    invoice = {"number": "I-0002", "title": "Walls closed and waterproofed", "issued_on": "2026-11-23"}
    return names | {
        "invoice": invoice | {"total": "4400.00"},
        "credit": {
            "number": "N-0001",
            "reason": "The niche was left out at your wish after it had been billed.",
            "issued_on": "2026-11-25",
            "is_whole": False,
        },
        "lines": [{"label": "Work and materials with Sales tax 10%", "amount": "181.82"}],
        "net": "181.82",
        "taxes": [TAX | {"amount": "18.18"}],
        "total": "200.00",
        "unheld": "20.00",
        "freed": "0.00",
        "statement": {
            "contract_sum": "11000.00",
            "billed_before": "7400.00",
            "this": "200.00",
            "credited": "200.00",
            "retained": "420.00",
            "paid": "3000.00",
            "to_come": "3800.00",
            "owed": "3780.00",
        },
    }


def receipt_context() -> dict[str, Any]:
    """4,000.00 received: the open 3,780.00 and 220.00 of credit."""
    return {
        "firm": FIRM,
        "client": CLIENT,
        "payment": {
            "number": "R-0002",
            "amount": "4000.00",
            "method": "Cheque",
            "received_on": "2026-12-01",
            "reference": "no. 118",
            "note": "",
            "is_refund": False,
        },
        "shares": [
            {"number": "I-0002", "title": "Walls closed", "amount": "3780.00", "open": "0.00"},
        ],
        "to_credit": "220.00",
        "credit_left": "220.00",
    }


def release_context() -> dict[str, Any]:
    """The 420.00 that is still held of the second bill."""
    return {
        "firm": FIRM,
        "client": CLIENT,
        "job": JOB,
        "release": {"number": "H-0001", "released_on": "2027-01-15", "due_on": "2027-01-29"},
        "rows": [{"number": "I-0002", "title": "Walls closed", "held": "420.00", "amount": "420.00"}],
        "total": "420.00",
        "due_on": "2027-01-29",
    }


def statement_context() -> dict[str, Any]:
    """The account after the payment of 3,780.00 and before the release."""
    account = {
        "quote_total": "10000.00",
        "changes": "1000.00",
        "contract_sum": "11000.00",
        "billed": "7400.00",
        "credited": "200.00",
        "retained": "420.00",
        "paid": "6780.00",
        "owed": "0.00",
        "to_bill": "3800.00",
    }
    return {
        "firm": FIRM,
        "client": CLIENT,
        "job": JOB,
        "statement": {"number": "S-0001", "issued_on": "2026-12-02"},
        "account": account,
        "changes": [
            {"number": "J-0007-C1", "title": "Rotted subfloor under the toilet", "amount": "1000.00"}
        ],
        "bills": [
            _bill("I-0001", "Deposit", "2026-11-16", ("3000.00", "0.00", "0.00", "3000.00", "0.00")),
            _bill(
                "I-0002",
                "Walls closed and waterproofed",
                "2026-12-07",
                ("4400.00", "200.00", "420.00", "3780.00", "0.00"),
            ),
        ],
        "rows": [
            {"on": "2026-11-02", "what": "Invoice I-0001", "amount": "3000.00", "balance": "3000.00"},
            {"on": "2026-11-09", "what": "Payment R-0001", "amount": "-3000.00", "balance": "0.00"},
        ],
        "ageing": [
            {"label": label, "amount": "0.00"}
            for label in ("not due", "1–30 days", "31–60 days", "61–90 days", "over 90 days")
        ],
    }


def _bill(number: str, title: str, due_on: str, sums: tuple[str, ...]) -> dict[str, str]:
    names = ("total", "credited", "held", "paid", "open")
    return {"number": number, "title": title, "due_on": due_on} | dict(zip(names, sums, strict=True))


def progress_context() -> dict[str, Any]:
    """The second bill by percent complete: two items of 5,500.00, both further than before."""
    items = [("Demolition and framing", "50", "100"), ("Waterproofing and tile", "0", "34.5")]
    progress = [
        {"label": label, "amount": "5500.00", "before": before, "now": now} for label, before, now in items
    ]
    context = invoice_context()
    return context | {"invoice": context["invoice"] | {"kind": "progress"}, "progress": progress}
