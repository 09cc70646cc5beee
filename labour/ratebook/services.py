"""Filling and changing the rate book: the only way to it.

Comes in: the firm, checked tasks or named fields, the moment and the person. Goes out: rows, and an audit
line with the figures before and after. A refusal names each field and what would be right; nothing is half
saved.
"""

from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import Any

from django.db import transaction

from labour.engine.figures import plain
from labour.engine.refusal import Problem, Refusal
from labour.engine.task_check import FIELDS, BadTask, task_from
from labour.engine.tasks import STARTING_GUESS, Task
from labour.firm.models import Firm, User
from labour.firm.services import write_audit
from labour.ratebook.models import RateOrigin, TaskRow
from labour.ratebook.queries import audit_subject
from labour.ratebook.versions import RATES, evidence_after, keep_start, keep_version, set_prior

CHANGEABLE = tuple(name for name in FIELDS if name not in ("code", "phase", "unit"))
"""Fields of a task that may change; quotes and templates lean on the others."""

_DECIMALS = ("rate", "rate_low", "rate_high", "setup_hours", "cure_hours")


class CannotChangeTask(Refusal):
    """The task stays as it was."""


class CannotAddTask(Refusal):
    """No task was added."""


@transaction.atomic
def load_rate_book(*, firm: Firm, tasks: Iterable[Task]) -> int:
    """Add the tasks that the firm does not have yet; leave every task it has. Give the number added."""
    Firm.objects.select_for_update().get(pk=firm.pk)
    held = set(TaskRow.objects.of(firm).values_list("code", flat=True))
    missing = [TaskRow(firm=firm, **columns_of(task)) for task in tasks if task.code not in held]
    TaskRow.objects.bulk_create(missing)
    return len(missing)


@transaction.atomic
def change_task(
    *, firm: Firm, code: str, changes: Mapping[str, Any], by: User | None, at: datetime
) -> TaskRow:
    """Change fields of a task (CHANGEABLE). Changes that change nothing leave no audit line.

    New rates make a version of them. What is typed is given and not learned: the rate book stands on it.
    Raise CannotChangeTask for a task the firm does not have, a field that may not change, a wrong value, and
    for a new rate that would keep citing the old rate's source.
    """
    row: TaskRow | None = (
        TaskRow.objects.of(firm).select_for_update().filter(code=code, is_active=True).first()
    )
    if row is None:
        raise CannotChangeTask(f"The rate book has no task “{code[:40]}”.")
    fixed = [Problem(name, "This cannot change.") for name in changes if name not in CHANGEABLE]
    if fixed:
        raise CannotChangeTask(*fixed)
    before = fields_of(row.to_engine())
    try:
        task = task_from({**before, **changes})
    except BadTask as bad:
        raise CannotChangeTask(*bad.problems) from bad
    after = fields_of(task)
    changed = [name for name in FIELDS if before[name] != after[name]]
    if "rate" in changed and "source" not in changed and row.source != STARTING_GUESS:
        reason = f"Say where the new rate comes from; “{row.source}” gave {before['rate']}."
        raise CannotChangeTask(Problem("source", reason))
    if changed:
        _write_changes(row, task, changed, at=at, by=by)
        detail = {"before": {n: before[n] for n in changed}, "after": {n: after[n] for n in changed}}
        write_audit(firm=firm, by=by, at=at, action="change task", subject=audit_subject(code), detail=detail)
    return row


@transaction.atomic
def add_task(*, firm: Firm, fields: Mapping[str, Any], by: User | None, at: datetime) -> TaskRow:
    """Add a task of the firm's own (fields as in FIELDS). Raise CannotAddTask."""
    Firm.objects.select_for_update().get(pk=firm.pk)
    try:
        task = task_from(fields)
    except BadTask as bad:
        raise CannotAddTask(*bad.problems) from bad
    if TaskRow.objects.of(firm).filter(code=task.code).exists():
        raise CannotAddTask(Problem("code", f"The rate book already has a task “{task.code}”."))
    row: TaskRow = TaskRow.objects.create(firm=firm, **columns_of(task))
    detail = {"after": fields_of(task)}
    write_audit(firm=firm, by=by, at=at, action="add task", subject=audit_subject(task.code), detail=detail)
    return row


def fields_of(task: Task) -> dict[str, Any]:
    """A task's fields as in FIELDS, as JSON can hold them; decimals as text without idle zeros."""
    fields: dict[str, Any] = {name: getattr(task, name) for name in FIELDS if name != "unit"}
    return {
        **fields,
        **{name: plain(fields[name]) for name in _DECIMALS},
        "phase": str(task.phase),
        "unit": task.unit_code,
        "conditions": {name: plain(factor) for name, factor in task.conditions.items()},
        "cautions": list(task.cautions),
    }


def columns_of(task: Task) -> dict[str, Any]:
    """A task's fields as the columns of its row."""
    return fields_of(task) | {name: getattr(task, name) for name in _DECIMALS}


def _write_changes(row: TaskRow, task: Task, changed: list[str], *, at: datetime, by: User | None) -> None:
    is_rate = any(name in RATES for name in changed)
    if is_rate:
        keep_start(row)
    evidence = evidence_after(row, changed)
    if not evidence:
        set_prior(row, None)
    columns = columns_of(task)
    for name in changed:
        setattr(row, name, columns[name])
    row.save(update_fields=[*changed, "prior_rate", "prior_setup_hours"])
    if is_rate:
        keep_version(row, RateOrigin.TYPED, at, by, evidence)
