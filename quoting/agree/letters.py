"""What the letters about an offer say, and to whom they go."""

from datetime import datetime

from django.utils import timezone

from labour.firm.models import Firm, User
from quoting.agree.models import Contract
from quoting.agree.payments import Payments
from quoting.agree.queries import get_letter_address, get_shown_paper
from quoting.documents.filters import long_date, money
from quoting.documents.letters import write_letter
from quoting.documents.models import Letter
from quoting.offer.models import Quote

_OFFER = """Hello {client},

here is our offer {number} for {title}. The paper is attached. On this page you can read it, choose \
options and accept it, without a password:

{address}

The address is meant for you alone. The offer holds until {until}.

{firm}
"""
_ACCEPTED = """Hello {client},

thank you. You accepted our offer {number} for {total} on {day}. The signed copy is attached; please keep it.
{note}
Next we agree the starting date with you.

{firm}
"""
_FOR_FIRM = """{name} accepted {number} for {client} at {total} on {day}. The job is {job}.
The signed copy is attached.
{note}"""


def write_offer_letter(quote: Quote, to: str, address: str, at: datetime, by: User | None) -> Letter:
    """The offer's link and paper to the client. Raise CannotWriteLetter for a bad address."""
    firm, until = quote.firm, quote.valid_until
    body = _OFFER.format(
        client=quote.survey.site.client.name, number=quote.number, title=quote.title, address=address,
        until="we tell you otherwise" if until is None else long_date(until), firm=_foot_of(firm),
    )  # fmt: skip
    subject = f"Offer {quote.number} from {firm.name}: {quote.title}"[:160]
    about = f"quote {quote.number}"
    return write_letter(
        firm=firm,
        about=about,
        to=[to],
        subject=subject,
        body=body,
        papers=[get_shown_paper(quote)],
        at=at,
        by=by,
    )


def write_accepted_letters(contract: Contract, payments: Payments, at: datetime, by: User | None) -> None:
    """The executed copy to both sides, as far as their addresses are known."""
    acceptance = contract.acceptance
    quote, firm = acceptance.quote, contract.firm
    words = {
        "client": quote.survey.site.client.name, "number": quote.number, "name": acceptance.name,
        "total": money(acceptance.total, firm.currency), "job": contract.job.number, "firm": _foot_of(firm),
        "day": long_date(timezone.localdate(acceptance.signed_at)),
        "note": f"\n{payments.note}\n" if payments.note else "",
    }  # fmt: skip
    subject = f"{quote.number} accepted: {quote.title}"[:160]
    for to, body in ((get_letter_address(quote), _ACCEPTED), (firm.email, _FOR_FIRM)):
        if to:
            write_letter(
                firm=firm, about=f"quote {quote.number}", to=[to], subject=subject,
                body=body.format(**words), papers=[acceptance.executed], at=at, by=by,
            )  # fmt: skip


def _foot_of(firm: Firm) -> str:
    return "\n".join(line for line in (firm.name, firm.phone, firm.email) if line)
