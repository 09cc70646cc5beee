"""Reads the firm's scope templates, and asks the hours model for the labour of planned work."""

from collections.abc import Callable, Sequence

from django.db.models import QuerySet

from labour.engine.hours import LabourPlan, PlannedWork
from labour.engine.refusal import Problem, Refusal
from labour.engine.scope import ScopeTemplate
from labour.firm.models import Firm
from labour.plan.forecast import know, plan_with_ranges
from labour.plan.models import TemplateRow


class UnknownTemplate(Refusal):
    """The firm has no active template of this name."""


def get_template(firm: Firm, slug: str) -> ScopeTemplate:
    """The firm's active template. Raise UnknownTemplate, which lists the known ones."""
    row = None if "\0" in slug else _active_rows(firm).filter(slug=slug).first()
    if row is None:
        known = ", ".join(template.slug for template in list_templates(firm)) or "none yet"
        raise UnknownTemplate(
            Problem("template", f"There is no template {slug[:60]}. Known templates: {known}.")
        )
    return row.to_engine()


def list_templates(firm: Firm) -> tuple[ScopeTemplate, ...]:
    """The firm's active templates by name."""
    return tuple(row.to_engine() for row in _active_rows(firm))


def plan_labour(firm: Firm, works: Sequence[PlannedWork]) -> LabourPlan:
    """Hours of planned work for this firm. The one call through which hours reach a price.

    hours are those of the book. The ranges come from the firm's finished jobs; while it has none, they are
    wide, for the book is not its own (`known_jobs` is 0).
    """
    return planner_of(firm)(works)


def planner_of(firm: Firm) -> Callable[[Sequence[PlannedWork]], LabourPlan]:
    """`plan_labour` for many plans in a row: what is known of the firm is read once."""
    known = know(firm)
    return lambda works: plan_with_ranges(known, works)


def _active_rows(firm: Firm) -> QuerySet[TemplateRow]:
    rows: QuerySet[TemplateRow] = TemplateRow.objects.of(firm).filter(is_active=True)
    return rows.prefetch_related("lines").order_by("name")
