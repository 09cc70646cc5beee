"""Loading, copying and changing the firm's scope templates: the only way to do it.

Comes in: templates or lines as plain values, the codes that they may name, the moment and the person.
Goes out: saved rows and an audit line, or a refusal with every problem and nothing saved.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import asdict
from datetime import datetime
from re import fullmatch

from django.db import transaction

from labour.engine.refusal import Problem, Refusal
from labour.engine.scope import ScopeLine, ScopeTemplate
from labour.engine.tasks import Task
from labour.firm.models import AuditLine, Firm, User
from labour.plan.checks import problems_of
from labour.plan.models import TemplateLineRow, TemplateRow
from labour.plan.queries import get_template

_SLUG = r"[a-z0-9]+(-[a-z0-9]+)*"


class CannotLoadTemplates(Refusal):
    """A template names what the firm does not have, or says it wrongly."""


class CannotCopyTemplate(Refusal):
    """A copy cannot have this name or address."""


class CannotChangeTemplate(Refusal):
    """The lines, taken together, do not make a sound template."""


@transaction.atomic
def load_templates(
    *, firm: Firm, templates: Sequence[ScopeTemplate], items: Collection[str], tasks: Mapping[str, Task]
) -> int:
    """Add the templates that the firm does not have yet, by slug, and say how many were added.

    Those it has stay as they are. items: codes of the catalogue. tasks: of the rate book, by code.
    """
    problems = [problem for template in templates for problem in problems_of(template, tasks, items)]
    if problems:
        raise CannotLoadTemplates(*problems)
    known = set(TemplateRow.objects.of(firm).values_list("slug", flat=True))
    missing = [template for template in templates if template.slug not in known]
    rows = TemplateRow.objects.bulk_create([_row_of(firm, template) for template in missing])
    pairs = zip(rows, missing, strict=True)
    lines = [line for row, template in pairs for line in _line_rows(row, template.lines)]
    TemplateLineRow.objects.bulk_create(lines, batch_size=500)
    return len(rows)


@transaction.atomic
def copy_template(
    *, firm: Firm, slug: str, new_slug: str, new_name: str, at: datetime, by: User
) -> TemplateRow:
    """Add a template with the lines and exclusions of another, to be changed freely."""
    template = get_template(firm, slug)
    _refuse_copy(firm, new_slug, new_name)
    row = _row_of(firm, template)
    row.slug, row.name = new_slug, new_name.strip()
    row.save()
    TemplateLineRow.objects.bulk_create(_line_rows(row, template.lines))
    _write_audit(row, "copy template", {"from": slug}, at, by)
    return row


@transaction.atomic
def change_template_lines(
    *,
    firm: Firm,
    slug: str,
    lines: Sequence[ScopeLine],
    tasks: Mapping[str, Task],
    items: Collection[str],
    at: datetime,
    by: User,
) -> TemplateRow:
    """Put these lines in place of the template's lines, in this order.

    The audit line keeps the lines that went and came. Quotes already made keep what they were made with.
    Problems are named "<slug> line <number from 1> <code|quantity|when|option|unless>".
    """
    before = get_template(firm, slug)
    row = TemplateRow.objects.of(firm).select_for_update().get(slug=slug)
    after = ScopeTemplate(slug, row.name, row.summary, tuple(lines), before.exclusions)
    problems = problems_of(after, tasks, items)
    if problems:
        raise CannotChangeTemplate(*problems)
    row.lines.all().delete()
    TemplateLineRow.objects.bulk_create(_line_rows(row, lines))
    went, came = _bare(before.lines), _bare(after.lines)
    detail = {
        "removed": [line for line in went if line not in came],
        "added": [line for line in came if line not in went],
    }
    _write_audit(row, "change template", detail, at, by)
    return row


def _refuse_copy(firm: Firm, slug: str, name: str) -> None:
    problems = []
    if len(slug) > 60 or not fullmatch(_SLUG, slug):
        hint = "Use small letters, digits and single hyphens, at most 60, as in small-hall-bath."
        problems.append(Problem("new_slug", hint))
    elif TemplateRow.objects.of(firm).filter(slug=slug).exists():
        problems.append(Problem("new_slug", f"There is a template {slug} already; choose another."))
    if not 0 < len(name.strip()) <= 120 or "\0" in name:
        problems.append(Problem("new_name", "Write a name of 1 to 120 characters."))
    if problems:
        raise CannotCopyTemplate(*problems)


def _row_of(firm: Firm, template: ScopeTemplate) -> TemplateRow:
    return TemplateRow(
        firm=firm,
        slug=template.slug,
        name=template.name,
        summary=template.summary,
        exclusions=list(template.exclusions),
    )


def _line_rows(row: TemplateRow, lines: Sequence[ScopeLine]) -> list[TemplateLineRow]:
    return [
        TemplateLineRow(
            template=row,
            position=position,
            kind=line.kind,
            code=line.code,
            quantity=line.quantity,
            when=line.when,
            option=line.option,
            unless=line.unless,
        )
        for position, line in enumerate(lines, start=1)
    ]


def _bare(lines: Sequence[ScopeLine]) -> list[dict[str, str]]:
    """The lines as plain tables, without the keys that only say their place."""
    return [{name: text for name, text in asdict(line).items() if name != "key" and text} for line in lines]


def _write_audit(row: TemplateRow, action: str, detail: Mapping[str, object], at: datetime, by: User) -> None:
    subject = row.slug[:160]
    AuditLine.objects.create(firm=row.firm, at=at, by=by, action=action, subject=subject, detail=dict(detail))
