"""Accepting an offer: from the client's signature to the job and its contract."""

from collections.abc import Collection
from datetime import datetime

from django.db import transaction

from labour.firm.models import AuditLine, User
from labour.firm.once import BadTicket, find_done, keep_done
from quoting.agree.choosing import choose_options
from quoting.agree.contracts import open_contract
from quoting.agree.executed import executed_copy, wording_of
from quoting.agree.letters import write_accepted_letters
from quoting.agree.models import Acceptance, Contract
from quoting.agree.payments import plan_payments
from quoting.agree.queries import get_shown_paper
from quoting.agree.refusals import check_acceptable
from quoting.agree.signing import Evidence
from quoting.documents.models import IssuedPaper
from quoting.documents.services import issue_paper
from quoting.offer.models import Quote, Status
from quoting.offer.services import lock_family
from quoting.price.queries import get_price_settings

_ACTION = "accept quote"


@transaction.atomic
def accept_quote(
    *,
    quote: Quote,
    options: Collection[str],
    evidence: Evidence,
    shown_sha256: str,
    ticket: str,
    at: datetime,
    by: User | None = None,
) -> Contract:
    """Turn an open offer into a job with its contract, keep the executed copy, and send it to both sides.

    options: names taken. shown_sha256: hash of the paper that was shown. ticket: asked again with the same
    one, the answer is the same. by: who records it; None when the client signs. Raise CannotAcceptQuote,
    CannotTakeOptions or BadTicket, with nothing kept.
    """
    quote = _lock(quote)
    done = find_done(quote.firm, ticket, _ACTION)
    if done is not None:
        return _answer_again(quote, done)
    check_acceptable(quote, shown_sha256, evidence.at, at)
    choice, settings = choose_options(quote, options), get_price_settings(quote.firm)
    payments = plan_payments(choice.total, quote.figures["client_view"]["milestones"], settings)
    paper = issue_paper(firm=quote.firm, draft=executed_copy(quote, choice, payments, evidence), at=at)
    acceptance = _keep_acceptance(quote, evidence, paper, by)
    acceptance.options, acceptance.total = [option.name for option in choice.options], choice.total
    acceptance.save()
    quote.status, quote.decided_at = Status.ACCEPTED, at
    quote.save(update_fields=["status", "decided_at"])
    contract = open_contract(acceptance, choice, payments, settings, by)
    keep_done(quote.firm, ticket, _ACTION, contract.pk, at)
    detail = {"name": evidence.name, "total": str(choice.total), "job": contract.job.number}
    _note(acceptance, at, by, detail | ({"deposit": payments.note} if payments.note else {}))
    write_accepted_letters(contract, payments, at, by)
    return contract


def _lock(quote: Quote) -> Quote:
    """The quote as it stands now, locked with its revisions: none of them is sent meanwhile."""
    return next(row for row in lock_family(quote.firm, quote.pk) if row.pk == quote.pk)


def _answer_again(quote: Quote, contract_id: int) -> Contract:
    rows = Contract.objects.of(quote.firm).select_related("acceptance", "job")
    contract: Contract = rows.get(pk=contract_id)
    if contract.acceptance.quote_id != quote.pk:
        raise BadTicket("This form belongs to another offer. Open the offer again.")
    return contract


def _keep_acceptance(quote: Quote, evidence: Evidence, paper: IssuedPaper, by: User | None) -> Acceptance:
    return Acceptance(
        firm=quote.firm,
        quote=quote,
        wording=wording_of(quote, on_paper=bool(evidence.signature.on_paper)),
        shown_sha256=get_shown_paper(quote).sha256,
        executed=paper,
        recorded_by=by,
        **evidence.columns(),
    )


def _note(acceptance: Acceptance, at: datetime, by: User | None, detail: dict[str, str]) -> None:
    subject = acceptance.quote.number
    AuditLine.objects.create(
        firm=acceptance.firm, at=at, by=by, action="accepted quote", subject=subject, detail=detail
    )
