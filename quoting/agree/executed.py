"""The executed copy: the offer exactly as it was shown, and behind it the signature and how it came about."""

from typing import Any

from quoting.agree.choosing import Choice
from quoting.agree.payments import Payments
from quoting.agree.queries import get_shown_paper
from quoting.agree.signing import Evidence
from quoting.documents.services import Draft
from quoting.offer.models import Quote
from quoting.offer.paper import TEMPLATE

KIND = "executed-quote"
BY_CLIENT = (
    "I accept quote {number} with the options that I ticked, at the total shown, with its payments and "
    "terms. My name typed or drawn here is my signature."
)
ON_PAPER = "Quote {number} was accepted on paper, with the options and total below, its payments and terms."


def wording_of(quote: Quote, *, on_paper: bool = False) -> str:
    """The sentence that is accepted."""
    return (ON_PAPER if on_paper else BY_CLIENT).format(number=quote.number)


def executed_copy(quote: Quote, choice: Choice, payments: Payments, evidence: Evidence) -> Draft:
    """The executed copy as a paper to be issued: what the offer was made from, and the key "executed"."""
    context = get_shown_paper(quote).context | {"executed": _executed(quote, choice, payments, evidence)}
    return Draft(KIND, quote.number, TEMPLATE, context)


def _executed(quote: Quote, choice: Choice, payments: Payments, evidence: Evidence) -> dict[str, Any]:
    return evidence.texts() | {
        "wording": wording_of(quote, on_paper=bool(evidence.signature.on_paper)),
        "shown": f"quote {quote.number}",
        "shown_sha256": get_shown_paper(quote).sha256,
        "base": str(choice.base.total),
        "options": [{"name": option.name, "total": str(option.total)} for option in choice.options],
        "total": str(choice.total),
        "payments": [{"name": row.name, "amount": str(row.amount)} for row in payments.rows],
        "note": payments.note,
    }
