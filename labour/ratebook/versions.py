"""The rates that a task has and had: kept at every change, learned rates taken, old ones put back.

Comes in: the firm, the task's code, the moment and the person. Goes out: the task's row, with a version of
its rates and an audit line. Quotes that are already made keep the hours they were made with.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.db import transaction

from labour.engine.figures import plain
from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm, User
from labour.firm.services import write_audit
from labour.ratebook.models import RateOrigin, RateVersion, TaskRow
from labour.ratebook.queries import audit_subject

RATES = ("rate", "rate_low", "rate_high", "setup_hours")
"""Fields of a task that make a version when they change."""

GIVEN = "given"
"""Name, in the evidence of a learned rate, of the rates that the book gave before anything was learned."""


class CannotPutBackRate(Refusal):
    """The task keeps the rate it has."""


class CannotTakeRate(Refusal):
    """The learned rate was not taken."""


@dataclass(frozen=True, slots=True)
class NewRate:
    """A rate learned from finished jobs. rate, low, high: units per labour-hour; low–high: 8 in 10 jobs.

    setup_hours: once a room. jobs: how many jobs of the firm stand behind it. evidence: what it was learned
    from, as JSON holds it.
    """

    rate: Decimal
    low: Decimal
    high: Decimal
    setup_hours: Decimal
    jobs: int
    evidence: Mapping[str, Any] = field(default_factory=dict)


@transaction.atomic
def take_learned_rate(*, firm: Firm, code: str, learned: NewRate, at: datetime, by: User | None) -> TaskRow:
    """Put a learned rate in the book, and keep what the book gave, so that jobs are not counted twice.

    Raise CannotTakeRate for a task the firm does not have and for rates that are out of order.
    """
    row = _find_row(firm, code)
    if row is None:
        raise CannotTakeRate(f"The rate book has no task “{code[:40]}”.")
    if not 0 < learned.low <= learned.rate <= learned.high:
        raise CannotTakeRate(Problem("rate", "must be more than 0 and lie between its low and its high."))
    given, before = _given_texts(row), rates_of(row)
    keep_start(row)
    set_prior(row, given)
    row.rate, row.rate_low, row.rate_high = learned.rate, learned.low, learned.high
    row.setup_hours = learned.setup_hours
    row.source = f"learned from your {learned.jobs} job{'' if learned.jobs == 1 else 's'}"
    _save(row)
    keep_version(row, RateOrigin.LEARNED, at, by, {**learned.evidence, GIVEN: given})
    _audit(row, "take learned rate", before, at, by)
    return row


@transaction.atomic
def put_back_rate(*, firm: Firm, code: str, version_id: int, at: datetime, by: User | None) -> TaskRow:
    """Give the task a rate again that it had. A learned one brings back what the book gave before it.

    Raise CannotPutBackRate for a task or version the firm does not have, and for the rate that stands.
    """
    row = _find_row(firm, code)
    version = RateVersion.objects.of(firm).filter(pk=version_id, task=row).first() if row else None
    if row is None or version is None:
        raise CannotPutBackRate(f"“{code[:40]}” had no such rate.")
    if rates_of(row) == rates_of(version) and row.source == version.source:
        raise CannotPutBackRate(Problem("version", f"{plain(row.rate)} is the rate that stands."))
    before = rates_of(row)
    for name in (*RATES, "source"):
        setattr(row, name, getattr(version, name))
    given = version.evidence.get(GIVEN)
    set_prior(row, given)
    _save(row)
    evidence = {**version.evidence, "of": version.at.isoformat()}
    keep_version(row, RateOrigin.PUT_BACK, at, by, evidence)
    _audit(row, "put rate back", before, at, by)
    return row


def keep_start(row: TaskRow) -> None:
    """Keep the rates that the row has, when no version was kept yet. Call before the first change."""
    if not row.versions.exists():
        keep_version(row, RateOrigin.START, row.firm.created_at, None)


def keep_version(
    row: TaskRow,
    origin: RateOrigin,
    at: datetime,
    by: User | None,
    evidence: Mapping[str, Any] | None = None,
) -> RateVersion:
    """Keep the rates that the row has now. Call inside the transaction of the change."""
    version: RateVersion = RateVersion.objects.create(
        firm=row.firm,
        task=row,
        at=at,
        by=by,
        origin=origin,
        source=row.source,
        evidence=dict(evidence or {}),
        **{name: getattr(row, name) for name in RATES},
    )
    return version


def given_rates(row: TaskRow) -> dict[str, Decimal]:
    """The rates of the book before anything was learned: those that stand, unless they were learned."""
    if row.prior_rate is None:
        return {name: getattr(row, name) for name in RATES}
    newest = row.versions.filter(evidence__has_key=GIVEN).order_by("-pk").first()
    if newest is not None:
        return {name: Decimal(newest.evidence[GIVEN][name]) for name in RATES}
    # A learned rate without a version has lost the range it started with; its own is as wide as any.
    scale = row.prior_rate / row.rate
    low, high = row.rate_low * scale, row.rate_high * scale
    setup = row.setup_hours if row.prior_setup_hours is None else row.prior_setup_hours
    return dict(zip(RATES, (row.prior_rate, low, high, setup), strict=True))


def set_prior(row: TaskRow, given: Mapping[str, str] | None) -> None:
    """Note what the book gave before the rate was learned; None: the rate is given. The row is not saved."""
    for name in ("rate", "setup_hours"):
        setattr(row, f"prior_{name}", Decimal(given[name]) if given else None)


def evidence_after(row: TaskRow, changed: Collection[str]) -> dict[str, Any]:
    """Evidence that still stands when these fields are typed: a new range leaves a learned rate learned."""
    if row.prior_rate is None or "rate" in changed or "setup_hours" in changed:
        return {}
    return {GIVEN: _given_texts(row)}


def rates_of(row: TaskRow | RateVersion) -> dict[str, str]:
    """The rates as text without idle zeros."""
    return {name: plain(getattr(row, name)) for name in RATES}


def _given_texts(row: TaskRow) -> dict[str, str]:
    return {name: plain(value) for name, value in given_rates(row).items()}


def _find_row(firm: Firm, code: str) -> TaskRow | None:
    rows = TaskRow.objects.of(firm).select_related("firm").select_for_update(of=("self",))
    row: TaskRow | None = rows.filter(code=code, is_active=True).first()
    return row


def _save(row: TaskRow) -> None:
    row.save(update_fields=[*RATES, "source", "prior_rate", "prior_setup_hours"])


def _audit(row: TaskRow, action: str, before: dict[str, str], at: datetime, by: User | None) -> None:
    after = rates_of(row)
    changed = [name for name in RATES if before[name] != after[name]]
    detail = {"before": {n: before[n] for n in changed}, "after": {n: after[n] for n in changed}}
    write_audit(firm=row.firm, by=by, at=at, action=action, subject=audit_subject(row.code), detail=detail)
