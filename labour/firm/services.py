"""Setting up a firm, its letterhead, and the people whose hours are priced: the only way to change them.

Comes in: rows, what was typed, the moment and the person. Goes out: the saved row, and an audit line for
every change. A refusal names each field and what would be right, and nothing is saved.
"""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import datetime
from decimal import Decimal

from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.db import models, transaction

from labour.engine.countries import COUNTRIES
from labour.engine.refusal import Problem, Refusal
from labour.firm.models import AuditLine, Firm, Membership, Paper, Role, Units, User, Worker
from labour.firm.queries import list_workers

MOST_WAGE = Decimal("1000")
MOST_BURDEN_PERCENT = Decimal("300")


class CannotSetUpFirm(Refusal):
    """No firm was made."""


class CannotFinishSetUp(Refusal):
    """Something is missing before the firm can quote."""


class CannotSaveFirm(Refusal):
    """The letterhead cannot be kept as it is."""


class CannotSaveWorker(Refusal):
    """A worker's wage or burden cannot be kept as it is."""


class CannotRetireWorker(Refusal):
    """The worker stays."""


@dataclass(frozen=True, slots=True)
class Letterhead:
    """What a firm's papers say about it. paper, units: codes of `Paper`, `Units`. currency: three letters.

    country: two letters. tax_number: of its sales tax or VAT registration, for invoices read by programs.
    """

    name: str
    address: str = ""
    phone: str = ""
    email: str = ""
    licence_text: str = ""
    paper: str = Paper.LETTER
    units: str = Units.US
    currency: str = "USD"
    country: str = "US"
    tax_number: str = ""


@transaction.atomic
def set_up_firm(*, user: User, letterhead: Letterhead, at: datetime) -> Firm:
    """Open a firm with this person as its owner. It can quote once `finish_set_up` is called."""
    locked = User.objects.select_for_update().get(pk=user.pk)
    if Membership.objects.filter(user=locked).exists():
        raise CannotSetUpFirm("This log-in already belongs to a firm. One log-in serves one firm.")
    values = _tidy(letterhead)
    if problems := _letterhead_problems(values):
        raise CannotSetUpFirm(*problems)
    firm = Firm.objects.create(created_at=at, **values)
    Membership.objects.create(firm=firm, user=locked, role=Role.OWNER)
    write_audit(firm=firm, by=locked, at=at, action="set up firm", subject=firm.name)
    return firm


@transaction.atomic
def finish_set_up(*, firm: Firm, by: User | None, at: datetime) -> Firm:
    """Call the firm ready to quote. Called again it keeps the first moment."""
    kept = Firm.objects.select_for_update().get(pk=firm.pk)
    if kept.set_up_at is None:
        if not list_workers(kept):
            raise CannotFinishSetUp(
                "Add at least one worker with a wage: hours cannot be priced without one."
            )
        kept.set_up_at = at
        kept.save(update_fields=["set_up_at"])
        write_audit(firm=kept, by=by, at=at, action="finish set-up", subject=kept.name)
    firm.set_up_at = kept.set_up_at
    return kept


@transaction.atomic
def save_firm(*, firm: Firm, letterhead: Letterhead, by: User, at: datetime) -> Firm:
    """Change the letterhead. Issued papers keep what they said; prices are not converted."""
    kept = Firm.objects.select_for_update().get(pk=firm.pk)
    values = _tidy(letterhead)
    if problems := _letterhead_problems(values):
        raise CannotSaveFirm(*problems)
    changes = {name: [getattr(kept, name), value] for name, value in values.items()}
    changes = {name: pair for name, pair in changes.items() if pair[0] != pair[1]}
    for name, value in values.items():
        setattr(kept, name, value)
    kept.save(update_fields=list(values))
    write_audit(firm=kept, by=by, at=at, action="change letterhead", subject=kept.name, detail=changes)
    return kept


@transaction.atomic
def add_worker(
    *, firm: Firm, name: str, trade: str, wage: Decimal, burden_percent: Decimal, by: User, at: datetime
) -> Worker:
    """Add someone whose hours are priced. wage: per hour. burden_percent: of the wage."""
    return _save_worker(Worker(firm=firm), (name, trade, wage, burden_percent), by, at)


@transaction.atomic
def change_worker(
    *, worker: Worker, name: str, trade: str, wage: Decimal, burden_percent: Decimal, by: User, at: datetime
) -> Worker:
    """Change a wage or burden. Quotes already made keep the figures they were made with."""
    kept = Worker.objects.select_for_update().get(pk=worker.pk)
    return _save_worker(kept, (name, trade, wage, burden_percent), by, at)


@transaction.atomic
def retire_worker(*, worker: Worker, by: User, at: datetime) -> Worker:
    """Take someone out of the price of an hour. The last one stays: hours need a wage."""
    firm = Firm.objects.select_for_update().get(pk=worker.firm_id)
    active = list_workers(firm)
    if worker not in active:
        raise CannotRetireWorker(f"{worker.name} is retired already.")
    if len(active) == 1:
        raise CannotRetireWorker(
            f"{worker.name} is the only worker. Add another first: hours need at least one wage."
        )
    worker.is_active = False
    worker.save(update_fields=["is_active"])
    write_audit(firm=firm, by=by, at=at, action="retire worker", subject=worker.name)
    return worker


def write_audit(
    *,
    firm: Firm,
    by: User | None,
    at: datetime,
    action: str,
    subject: str,
    detail: Mapping[str, object] | None = None,
) -> None:
    """Keep who did what, and when. detail: values as JSON can hold them; never a wage."""
    AuditLine.objects.create(
        firm=firm, by=by, at=at, action=action, subject=subject[:160], detail=dict(detail or {})
    )


def text_problems(model: type[models.Model], texts: Mapping[str, str]) -> list[Problem]:
    """What is wrong with these texts for the model's columns: too long, or not text."""
    problems = []
    for name, text in texts.items():
        longest = getattr(model._meta.get_field(name), "max_length", None)
        if longest is not None and len(text) > longest:
            problems.append(Problem(name, f"Shorten this to {longest} characters; it has {len(text)}."))
        if "\0" in text:
            problems.append(Problem(name, "Remove the null character; only readable text can be kept."))
    return problems


def email_problems(email: str) -> list[Problem]:
    """What is wrong with an e-mail address."""
    try:
        validate_email(email)
    except ValidationError:
        return [Problem("email", "Write an e-mail address like name@example.com.")]
    return []


def _tidy(letterhead: Letterhead) -> dict[str, str]:
    values = {name: text.replace("\r\n", "\n").strip() for name, text in asdict(letterhead).items()}
    return values | {name: values[name].upper() for name in ("currency", "country")}


def _letterhead_problems(values: Mapping[str, str]) -> list[Problem]:
    problems = text_problems(Firm, values)
    if not values["name"]:
        problems.append(Problem("name", "Write the firm's name, as it should stand on a quote."))
    if values["email"]:
        problems += email_problems(values["email"])
    if values["paper"] not in Paper.values:
        problems.append(Problem("paper", f"Choose one of: {', '.join(Paper.values)}."))
    if values["units"] not in Units.values:
        problems.append(Problem("units", f"Choose one of: {', '.join(Units.values)}."))
    currency = values["currency"]
    if not (len(currency) == 3 and currency.isascii() and currency.isalpha()):
        problems.append(Problem("currency", "Write the currency's three letters, like USD."))
    if values["country"] not in COUNTRIES:
        problems.append(
            Problem("country", "Write the country's two letters, like US, CA or GB (GB, not UK).")
        )
    return problems


def _save_worker(worker: Worker, typed: tuple[str, str, Decimal, Decimal], by: User, at: datetime) -> Worker:
    name, trade, wage, burden = typed
    is_new = worker.pk is None
    texts = {"name": name.strip(), "trade": trade.strip()}
    problems = text_problems(Worker, texts) + _amount_problems(wage, burden)
    if not texts["name"]:
        problems.insert(0, Problem("name", "Write who it is; a first name or a trade is enough."))
    if problems:
        raise CannotSaveWorker(*problems)
    worker.name, worker.trade, worker.wage, worker.burden_percent = *texts.values(), wage, burden
    worker.save()
    action = "add worker" if is_new else "change worker"
    write_audit(firm=worker.firm, by=by, at=at, action=action, subject=worker.name)
    return worker


def _amount_problems(wage: Decimal, burden: Decimal) -> list[Problem]:
    problems = []
    if not (wage.is_finite() and 0 < wage <= MOST_WAGE and wage == round(wage, 2)):
        hint = f"The wage must be above 0 and at most {MOST_WAGE} an hour, in whole cents, like 32.50."
        problems.append(Problem("wage", hint))
    if not (burden.is_finite() and 0 <= burden <= MOST_BURDEN_PERCENT and burden == round(burden, 2)):
        hint = f"The burden must lie between 0 and {MOST_BURDEN_PERCENT} percent of the wage, like 32.5."
        problems.append(Problem("burden_percent", hint))
    return problems
