"""The quote as paper, and as the document that programs read."""

from datetime import date, datetime
from typing import Any

from django.utils import timezone

from quoting.documents.letterhead import letterhead_of
from quoting.documents.paper import render_paper
from quoting.documents.services import Draft
from quoting.offer.models import Quote
from quoting.price.queries import get_price_settings

TEMPLATE = "documents/quote.html"


def render_quote(quote: Quote, at: datetime) -> bytes:
    """The quote as PDF, from its stored figures. A draft says so across the page."""
    return render_paper(TEMPLATE, paper_context(quote, at) | {"at": at}, paper=quote.firm.paper)


def pdf_of(quote: Quote, at: datetime) -> bytes:
    """The kept bytes when it was sent, a draft otherwise."""
    return bytes(quote.paper.pdf) if quote.paper else render_quote(quote, at)


def paper_of(quote: Quote, at: datetime) -> Draft:
    """The quote as a paper to be issued."""
    return Draft("quote", quote.number, TEMPLATE, paper_context(quote, at))


def paper_context(quote: Quote, at: datetime) -> dict[str, Any]:
    """What the quote's paper is given: the client's view only."""
    settings = get_price_settings(quote.firm)
    client, site = quote.survey.site.client, quote.survey.site
    dated = timezone.localtime(quote.sent_at or at)
    return {
        "firm": letterhead_of(quote.firm),
        "client": {name: getattr(client, name) for name in ("name", "address", "email", "phone")},
        "site": {"address": site.address},
        "quote": {
            "number": quote.number,
            "title": quote.title,
            "date": _day(dated.date()),
            "valid_until": _day(quote.valid_until),
            "measured_on": _day(quote.survey.measured_on),
            "draft": quote.is_draft,
            "show_line_amounts": settings.show_line_amounts,
        },
        "view": quote.figures["client_view"],
        "terms": settings.terms,
    }


def _day(day: date | None) -> str:
    return "" if day is None else f"{day:%B} {day.day}, {day.year}"


def quote_document(quote: Quote) -> dict[str, Any]:
    """The quote for programs: lines + discount = subtotal, subtotal + taxes = total."""
    names = {"number": quote.number, "client": quote.survey.site.client.name}
    return names | document_of(quote.figures)


def document_of(figures: dict[str, Any]) -> dict[str, Any]:
    """Stored figures as programs read them."""
    view = figures["client_view"]
    return {
        "lines": [
            {"phase": phase["label"], "description": line["description"], "amount": line["amount"]}
            | {"room": line["room"], "quantity": line["quantity"], "unit": line["unit"]}
            for phase in view["phases"]
            for line in phase["lines"]
        ],
        "discount": view["discount"],
        "subtotal": view["subtotal"],
        "taxes": view["taxes"],
        "total": view["total"],
        "options": view["options"],
        "allowances": view["allowances"],
        "unit_prices": view["unit_prices"],
        "milestones": view["milestones"],
        "rooms": figures["rooms"],
        "firm_view": figures["firm_view"],
    }
