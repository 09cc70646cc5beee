"""What was found behind the surfaces that jobs opened: the firm's own odds grow from it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal

from django.db import transaction

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm, User
from labour.firm.services import write_audit
from labour.work.models import Job
from quoting.engine.pricing.money import LARGEST
from quoting.engine.risk.concealed import Found
from quoting.engine.risk.kinds import KIND_BY_CODE
from quoting.price.models import ConcealedFinding


class CannotRecordFindings(Refusal):
    """What was found can not be meant so."""


@dataclass(frozen=True, slots=True)
class FindingWords:
    """kind: code of a `ConcealedKind` whose surface was opened. cost: to the firm, None when not known.

    old_house: whether the house was known to be old, None when not known.
    """

    kind: str
    was_found: bool
    cost: Decimal | None = None
    old_house: bool | None = None


@transaction.atomic
def record_findings(
    *, firm: Firm, job: Job, findings: Sequence[FindingWords], at: datetime, by: User | None
) -> list[ConcealedFinding]:
    """Replace what is known of the job's surfaces; kinds that are not named were not opened.

    Raise `CannotRecordFindings` for a kind unknown or named twice, a cost below zero or of nothing found.
    """
    if job.firm_id != firm.pk:
        raise CannotRecordFindings(Problem("job", "There is no such job in this firm."))
    if problems := _problems_of(findings):
        raise CannotRecordFindings(*problems)
    ConcealedFinding.objects.of(firm).filter(job=job).delete()
    rows = ConcealedFinding.objects.bulk_create(
        ConcealedFinding(
            firm=firm,
            job=job,
            kind=each.kind,
            was_found=each.was_found,
            old_house=each.old_house,
            cost=each.cost,
            at=at,
            by=by,
        )
        for each in findings
    )
    detail = {row.kind: f"{'found' if row.was_found else 'sound'} {row.cost or ''}".strip() for row in rows}
    subject = str(job)[:120]
    write_audit(firm=firm, by=by, at=at, action="record findings", subject=subject, detail=detail)
    return list(rows)


def count_found(firm: Firm) -> Mapping[str, Found]:
    """By kind, what the firm's own jobs found."""
    counts: dict[str, Found] = {}
    for row in ConcealedFinding.objects.of(firm).order_by("at", "pk"):
        counts[row.kind] = _with(counts.get(row.kind, Found()), row)
    return counts


def _with(so_far: Found, row: ConcealedFinding) -> Found:
    cost = () if row.cost is None or not row.was_found else (float(row.cost),)
    return replace(
        so_far,
        opened=so_far.opened + 1,
        found=so_far.found + int(row.was_found),
        costs=so_far.costs + cost,
        old_opened=so_far.old_opened + int(row.old_house is True),
        old_found=so_far.old_found + int(row.old_house is True and row.was_found),
    )


def _problems_of(findings: Sequence[FindingWords]) -> list[Problem]:
    problems, seen = [], set[str]()
    for place, each in enumerate(findings):
        if each.kind in seen:
            problems.append(Problem(f"findings[{place}].kind", f"“{each.kind}” is there twice; say it once."))
        seen.add(each.kind)
        if each.kind not in KIND_BY_CODE:
            known = ", ".join(KIND_BY_CODE)
            problems.append(
                Problem(f"findings[{place}].kind", f"No such kind “{each.kind[:40]}”. Known: {known}.")
            )
        if each.cost is None:
            continue
        if not each.cost.is_finite() or not 0 <= each.cost <= LARGEST:
            words = f"A cost is an amount from 0 to {LARGEST:,}."
            problems.append(Problem(f"findings[{place}].cost", words))
        elif not each.was_found:
            words = "Nothing was found, so it cost nothing: leave the cost empty."
            problems.append(Problem(f"findings[{place}].cost", words))
    return problems
