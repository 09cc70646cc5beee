"""What a change order is made from, as it is typed and as it is read back."""

from dataclasses import dataclass, field
from typing import Any

from labour.engine.refusal import Problem, Refusal
from quoting.change.models import ChangeOrder, Pricing, Reason

MOST_DAYS = 200


class BadChangeOrder(Refusal):
    """The change order lacks something, or holds what can not be used."""


@dataclass(frozen=True, slots=True)
class ChangeDraft:
    """What a change order is made from.

    reason, pricing: codes of `Reason` and `Pricing`. finding: what was found, in words for the client.
    lines: see `quoting/engine/changing.py`. billed_apart: as a payment of its own.
    days: working days that it adds to the job; None to take them from the hours.
    """

    title: str
    reason: str
    finding: str = ""
    pricing: str = Pricing.FIXED
    lines: list[dict[str, Any]] = field(default_factory=list)
    billed_apart: bool = False
    days: int | None = None


def draft_of(change: ChangeOrder) -> ChangeDraft:
    """What a change order was made from, read back."""
    return ChangeDraft(
        title=change.title,
        reason=change.reason,
        finding=change.finding,
        pricing=change.pricing,
        lines=list(change.lines),
        billed_apart=change.billed_apart,
        days=change.days if change.figures["days_by_hand"] else None,
    )


def check_draft(draft: ChangeDraft) -> None:
    """Refuse words and choices that can not be kept, all at once. Lines are checked by pricing."""
    problems = []
    if not 1 <= len(draft.title.strip()) <= 120 or not draft.title.strip().isprintable():
        problems.append(Problem("title", "Give the change a title of 1 to 120 plain characters."))
    if draft.reason not in Reason.values:
        problems.append(Problem("reason", f"Choose why the contract changes: {_offered(Reason.labels)}."))
    if draft.pricing not in Pricing.values:
        problems.append(Problem("pricing", f"Choose how it is priced: {_offered(Pricing.labels)}."))
    if len(draft.finding) > 2000 or "\0" in draft.finding:
        problems.append(Problem("finding", "Say what was found in at most 2,000 plain characters."))
    if draft.days is not None and not 0 <= draft.days <= MOST_DAYS:
        wanted = f"Write working days from 0 to {MOST_DAYS}, or leave it empty to take them from the hours."
        problems.append(Problem("days", wanted))
    if problems:
        raise BadChangeOrder(*problems)


def _offered(labels: list[str]) -> str:
    return ", ".join(labels)
