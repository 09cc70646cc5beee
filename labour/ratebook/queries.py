"""Readings of the rate book. Comes in: the firm. Goes out: tasks as plain values, or rows for pages."""

from collections.abc import Collection

from django.db.models import Q, QuerySet
from django.http import Http404

from labour.engine.tasks import Task
from labour.engine.vocabulary import Phase
from labour.firm.models import AuditLine, Firm
from labour.ratebook.models import RateVersion, TaskRow


def get_rate_book(firm: Firm) -> dict[str, Task]:
    """Every active task by its code, in one query."""
    return {row.code: row.to_engine() for row in _active_rows(firm)}


def get_tasks(firm: Firm, codes: Collection[str]) -> dict[str, Task]:
    """Those of these tasks that the firm has, by code.

    Tasks that were put away still count: what was planned with them is done with them.
    """
    return {row.code: row.to_engine() for row in TaskRow.objects.of(firm).filter(code__in=codes)}


def list_tasks(firm: Firm, search: str = "") -> list[TaskRow]:
    """Active tasks in the order of the work; with `search`, those whose code or words hold it."""
    rows = _active_rows(firm)
    if search:
        rows = rows.filter(
            Q(code__icontains=search) | Q(name__icontains=search) | Q(client_text__icontains=search)
        )
    return sorted(rows, key=lambda row: (Phase(row.phase).position, row.pk))


def get_task_row(firm: Firm, code: str) -> TaskRow:
    """The firm's active task, or 404."""
    row = _active_rows(firm).filter(code=code).first()
    if row is None:
        raise Http404
    return row


def list_task_history(row: TaskRow) -> list[AuditLine]:
    """What was done to the task, newest first, at most 20 lines."""
    lines = AuditLine.objects.of(row.firm).filter(subject=audit_subject(row.code))
    return list(lines.select_related("by").order_by("-at", "-pk")[:20])


def list_versions(row: TaskRow) -> list[RateVersion]:
    """The rates that the task has and had, newest first; none while it has the one it started with."""
    return list(row.versions.select_related("by").order_by("-pk")[:50])


def audit_subject(code: str) -> str:
    """How audit lines name a task."""
    return f"task {code}"


def _active_rows(firm: Firm) -> "QuerySet[TaskRow]":
    rows: QuerySet[TaskRow] = TaskRow.objects.of(firm).filter(is_active=True)
    return rows.order_by("pk")
