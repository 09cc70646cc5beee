"""Routes of the scope templates: everyone of the firm reads them, owner and office change them."""

from typing import Any

from ninja import Router, Status

from labour.engine.amounts import FUNCTIONS
from labour.engine.scope import LineKind, ScopeLine
from labour.engine.units import UNITS
from labour.engine.vocabulary import CONDITIONS, FACTS, QUANTITIES
from labour.firm.access import EVERYONE, OFFICE, MemberRequest, get_of
from labour.firm.api_access import at_by, only
from labour.plan import services
from labour.plan.models import TemplateRow
from labour.plan.queries import list_templates
from labour.plan.schemas import CopyIn, TemplateLinesIn, TemplateOut, TemplateRowOut, VocabularyOut
from labour.ratebook.queries import get_rate_book

router = Router(tags=["templates"])


@router.get("/templates", response=list[TemplateRowOut])
@only(*EVERYONE)
def get_templates(request: MemberRequest) -> Any:
    """Every scope template with what it is for, by name."""
    return list(list_templates(request.firm))


@router.get("/templates/{slug:slug}", response=TemplateOut)
@only(*EVERYONE)
def get_template(request: MemberRequest, slug: str) -> Any:
    """One template with its lines in order."""
    return get_of(TemplateRow, request.firm, slug=slug, is_active=True).to_engine()


@router.post("/templates/{slug:slug}/copy", response={201: TemplateOut})
@only(*OFFICE)
def copy_template(request: MemberRequest, slug: str, body: CopyIn) -> Any:
    """A template of the firm's own, begun from another."""
    row = get_of(TemplateRow, request.firm, slug=slug, is_active=True)
    copy = services.copy_template(firm=request.firm, slug=row.slug, **dict(body), **at_by(request))
    return Status(201, copy.to_engine())


@router.put("/templates/{slug:slug}/lines", response=TemplateOut)
@only(*OFFICE)
def change_lines(request: MemberRequest, slug: str, body: TemplateLinesIn) -> Any:
    """Put these lines in place of the template's lines. Quotes already made stay as they are.

    Codes of materials are taken as written: the catalogue is read when a room is priced.
    """
    row = get_of(TemplateRow, request.firm, slug=slug, is_active=True)
    changed = services.change_template_lines(
        firm=request.firm,
        slug=row.slug,
        lines=[ScopeLine("", **dict(line)) for line in body.lines],
        tasks=get_rate_book(request.firm),
        items={line.code for line in body.lines if line.kind is LineKind.ITEM},
        **at_by(request),
    )
    return changed.to_engine()


@router.get("/vocabulary", response=VocabularyOut)
@only(*EVERYONE)
def get_vocabulary(request: MemberRequest) -> Any:
    """The words that expressions of templates and rules may use, and the units of tasks."""
    return {
        "quantities": QUANTITIES,
        "facts": FACTS,
        "conditions": CONDITIONS,
        "functions": FUNCTIONS,
        "units": list(UNITS),
    }
