"""A job of the hall bath with a contract, made by accepting its offer, and change orders of it."""

from datetime import date, timedelta
from typing import Any

from labour.firm.models import Firm, User
from labour.plan.services import load_templates
from labour.work.services import set_job_days
from quoting.agree.choosing import choose_options
from quoting.agree.contracts import open_contract
from quoting.agree.models import Contract
from quoting.agree.payments import plan_payments
from quoting.agree.queries import get_contract
from quoting.agree.signing import Evidence, Signature
from quoting.change.models import ChangeOrder, Reason
from quoting.change.services import (
    ChangeDraft,
    approve_change_order,
    raise_change_order,
    send_change_order,
)
from quoting.offer.models import Quote, Status
from quoting.price.queries import get_price_settings
from tests.hall_bath import MATERIALS, TASKS
from tests.hall_firm import make_hall_firm, make_hall_quote
from tests.job_makers import make_acceptance, make_paper
from tests.quoting.agree_cast import SENT, SIGNED
from tests.quoting.change_cast import ROT, work

FOUND = SIGNED + timedelta(days=10)
ANSWERED = FOUND + timedelta(days=1)
FINISH = date(2026, 12, 4)


def make_job(name: str = "Harbor Lane Baths", *options: str) -> tuple[Contract, User]:
    """The hall bath's contract, finishing on Friday, December 4; its firm has a template for rot.

    Made as an acceptance makes it, but without its papers, which cost seconds.
    """
    firm, owner = make_hall_firm(name)
    Firm.objects.filter(pk=firm.pk).update(email="office@example.com", phone="555-0142")
    firm.refresh_from_db()
    contract = agree(make_hall_quote(firm, owner), options, owner)
    load_templates(
        firm=firm,
        templates=[ROT],
        items={material.code for material in MATERIALS},
        tasks={task.code: task for task in TASKS},
    )
    set_job_days(firm=firm, job_id=contract.job_id, starts_on=None, finish_on=FINISH, at=FOUND, by=owner)
    return get_contract(firm, contract.job_id), owner


def agree(quote: Quote, options: tuple[str, ...], owner: User) -> Contract:
    """The contract of a quote, as an acceptance makes it but without its papers."""
    quote.status, quote.sent_at, quote.decided_at = Status.ACCEPTED, SENT, SIGNED
    quote.paper = make_paper(quote.firm, "quote", quote.number)
    quote.save()
    choice, settings = choose_options(quote, options), get_price_settings(quote.firm)
    acceptance = make_acceptance(quote)
    acceptance.options, acceptance.total = list(options), choice.total
    acceptance.save()
    payments = plan_payments(choice.total, quote.figures["client_view"]["milestones"], settings)
    return open_contract(acceptance, choice, payments, settings, owner)


def draft(*lines: dict[str, str], **changed: Any) -> ChangeDraft:
    """12 sq ft of rot, unless other lines are given."""
    words = {
        "title": "Rot under the tub",
        "reason": Reason.ROT,
        "finding": "Soft from the door to the drain.",
    }
    return ChangeDraft(**{"lines": list(lines or (work(),)), **words, **changed})


def raise_change(contract: Contract, *lines: dict[str, str], ticket: str = "", **changed: Any) -> ChangeOrder:
    """A draft under the contract."""
    return raise_change_order(
        firm=contract.firm,
        job_id=contract.job_id,
        draft=draft(*lines, **changed),
        ticket=ticket,
        at=FOUND,
        by=None,
    )


def send_change(contract: Contract, *lines: dict[str, str], **changed: Any) -> ChangeOrder:
    """A change order that waits for the client's answer."""
    change = raise_change(contract, *lines, **changed)
    return send_change_order(firm=contract.firm, change_id=change.pk, at=FOUND, by=None)


def evidence(name: str = "Ada Brook") -> Evidence:
    """The client's typed signature."""
    return Evidence(name, Signature(typed=name), ANSWERED, "192.0.2.7", "Test browser")


def approve(change: ChangeOrder, **changed: Any) -> ChangeOrder:
    """The client approves what was shown."""
    asked: dict[str, Any] = {
        "change": change,
        "evidence": evidence(),
        "shown_sha256": change.paper.sha256 if change.paper else "",
        "ticket": "",
        "at": ANSWERED,
    }
    return approve_change_order(**asked | changed)
