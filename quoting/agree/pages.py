"""The firm's pages of an agreement: links of an offer, an acceptance on paper, how a job is billed."""

from collections.abc import Callable
from functools import partial
from secrets import token_hex
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from labour.engine.refusal import Problem, Refusal
from labour.firm.access import OFFICE, MemberRequest, page
from labour.firm.forms import submit
from quoting.agree import links as services
from quoting.agree.forms import OnPaperForm, SendLinkForm, TermsForm
from quoting.agree.on_paper import SignedPaper, record_acceptance
from quoting.agree.public_access import offer_address
from quoting.agree.queries import find_acceptance, get_contract, get_letter_address, list_links
from quoting.agree.terms import change_contract_terms, has_bills
from quoting.agree.tokens import token_of
from quoting.offer.models import Quote
from quoting.offer.queries import get_quote


@page(*OFFICE)
@require_GET
def links(request: MemberRequest, quote_id: int) -> HttpResponse:
    """The client's links of a quote, when they were opened, and how it was accepted."""
    return _show(request, get_quote(request.firm, quote_id))


@page(*OFFICE)
@require_POST
def make(request: MemberRequest, quote_id: int) -> HttpResponse:
    """A new link, to be copied."""
    act = partial(services.make_link, **_asked(request, quote_id))
    return _answer(request, quote_id, act, "The link is made. Copy its address from the list.")


@page(*OFFICE)
@require_POST
def revoke(request: MemberRequest, quote_id: int, link_id: int) -> HttpResponse:
    """Close a link."""
    act = partial(services.revoke_link, link_id=link_id, **_asked(request, quote_id))
    return _answer(request, quote_id, act, "The link is withdrawn: its address opens nothing any more.")


@page(*OFFICE)
@require_POST
def send(request: MemberRequest, quote_id: int) -> HttpResponse:
    """A new link by e-mail, with the paper."""
    quote, form = get_quote(request.firm, quote_id), SendLinkForm(request.POST)
    act = partial(
        services.send_offer_link, address_of=partial(offer_address, request), **_asked(request, quote_id)
    )
    if submit(form, act) is None:
        return _show(request, quote, form=form, status=422)
    messages.success(request, f"{quote.number} is on its way to {form.cleaned_data['to']}.")
    return redirect("quote-links", quote_id)


@page(*OFFICE)
@require_http_methods(["GET", "HEAD", "POST"])
def accept_on_paper(request: MemberRequest, quote_id: int) -> HttpResponse:
    """Record an acceptance that was signed on paper."""
    quote, at = get_quote(request.firm, quote_id), timezone.now()
    offered = [option["name"] for option in quote.figures["client_view"]["options"] if not option["missing"]]
    first = {"ticket": token_hex(16), "signed_on": timezone.localdate(at)}
    form = OnPaperForm(request.POST if request.method == "POST" else None, options=offered, initial=first)
    contract = submit(form, partial(_record, request, quote_id)) if form.is_bound else None
    if contract is None:
        given = {"quote": quote, "form": form}
        return render(request, "agree/on_paper.html", given, status=422 if form.is_bound else 200)
    messages.success(request, f"{quote.number} is accepted. The job is {contract.job.number}.")
    return redirect("quote-links", quote_id)


@page(*OFFICE)
@require_http_methods(["GET", "HEAD", "POST"])
def terms(request: MemberRequest, job_id: int) -> HttpResponse:
    """How the job's contract is billed, until its first bill."""
    contract = get_contract(request.firm, job_id)
    first = {"billing": contract.billing, "retainage_percent": contract.retainage_percent}
    form = TermsForm(request.POST if request.method == "POST" else None, initial=first)
    act = partial(
        change_contract_terms, firm=request.firm, job_id=job_id, at=timezone.now(), by=request.member.user
    )
    if form.is_bound and submit(form, act) is not None:
        messages.success(request, "How the job is billed is kept.")
        return redirect("contract-terms", job_id)
    given = {"contract": contract, "form": form, "is_billed": has_bills(contract)}
    return render(request, "agree/terms.html", given, status=422 if form.is_bound else 200)


def _asked(request: MemberRequest, quote_id: int) -> dict[str, Any]:
    """What every change is told: whose, which, when, by whom."""
    return {"firm": request.firm, "quote_id": quote_id, "at": timezone.now(), "by": request.member.user}


def _record(request: MemberRequest, quote_id: int, ticket: str, **given: Any) -> Any:
    return record_acceptance(signed=SignedPaper(**given), ticket=ticket, **_asked(request, quote_id))


def _answer(request: MemberRequest, quote_id: int, act: Callable[[], Any], said: str) -> HttpResponse:
    """Back to the links, or the refusal above them."""
    try:
        act()
    except Refusal as refusal:
        return _show(request, get_quote(request.firm, quote_id), problems=refusal.problems, status=422)
    messages.success(request, said)
    return redirect("quote-links", quote_id)


def _show(
    request: MemberRequest,
    quote: Quote,
    *,
    form: SendLinkForm | None = None,
    problems: tuple[Problem, ...] = (),
    status: int = 200,
) -> HttpResponse:
    at = timezone.now()
    rows = [
        {"link": link, "is_open": link.is_open(at), "address": offer_address(request, token_of(link))}
        for link in list_links(quote)
    ]
    given = {
        "quote": quote,
        "rows": rows,
        "standing": quote.standing(timezone.localdate(at)),
        "acceptance": find_acceptance(quote),
        "form": form or SendLinkForm(initial={"to": get_letter_address(quote)}),
        "problems": problems,
    }
    return render(request, "agree/links.html", given, status=status)
