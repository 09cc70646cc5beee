"""Reading the catalogue: whole for the estimate, and in lists for the pages."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from django.db.models import Q

from labour.firm.access import get_of
from labour.firm.models import AuditLine, Firm
from labour.ratebook.models import TaskRow
from quoting.catalogue.models import ConsumptionRow, MaterialRow
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.materials.values import ConsumptionRule
from quoting.engine.pricing.money import to_cents

MOST_LISTED = 500


@dataclass(frozen=True, slots=True)
class ListedMaterial:
    """A material as the list shows it. unit_price: of one content unit, to the cent."""

    row: MaterialRow
    unit_price: Decimal | None


@dataclass(frozen=True, slots=True)
class PriceChange:
    """A price that was put in: amounts as text, empty when there was none."""

    at: datetime
    by: str
    before: str
    after: str
    priced_on: date | None


def get_catalogue(firm: Firm) -> Catalogue:
    """The firm's materials and rules as the engine's plain values, in two queries."""
    materials = {row.code: row.to_engine() for row in MaterialRow.objects.of(firm)}
    rules: dict[str, tuple[ConsumptionRule, ...]] = {}
    for row in ConsumptionRow.objects.of(firm).select_related("task", "material").order_by("pk"):
        rule = row.to_engine()
        rules[rule.task_code] = (*rules.get(rule.task_code, ()), rule)
    return Catalogue(materials, rules)


def get_material(firm: Firm, code: str) -> MaterialRow:
    """The firm's material, or 404."""
    return get_of(MaterialRow, firm, code=code)


def list_materials(
    firm: Firm, search: str = "", category: str = "", *, only_missing: bool = False
) -> list[ListedMaterial]:
    """Materials by name, at most 500; search looks in name, code and supplier.

    only_missing: those without a price.
    """
    rows = MaterialRow.objects.of(firm).filter(is_active=True)
    for word in search.split():
        rows = rows.filter(Q(name__icontains=word) | Q(code__icontains=word) | Q(supplier__icontains=word))
    if category:
        rows = rows.filter(category=category)
    if only_missing:
        rows = rows.filter(price__isnull=True)
    return [ListedMaterial(row, unit_price_of(row)) for row in rows.order_by("name", "pk")[:MOST_LISTED]]


def count_missing_prices(firm: Firm) -> int:
    """How many materials have no price."""
    return MaterialRow.objects.of(firm).filter(is_active=True, price__isnull=True).count()


def unit_price_of(row: MaterialRow) -> Decimal | None:
    """Price of one content unit, to the cent; None while the price is missing."""
    return None if row.price is None else to_cents(row.price / row.pack_size)


def list_rules_of(material: MaterialRow) -> list[ConsumptionRow]:
    """The rules by which tasks use the material, with their tasks."""
    rows = ConsumptionRow.objects.of(material.firm).filter(material=material)
    return list(rows.select_related("task", "material").order_by("task__code", "pk"))


def list_rules_of_task(task: TaskRow) -> list[ConsumptionRow]:
    """The rules by which the task uses materials, with the materials."""
    rows = ConsumptionRow.objects.of(task.firm).filter(task=task)
    return list(rows.select_related("task", "material").order_by("material__code", "pk"))


def list_price_changes(material: MaterialRow) -> list[PriceChange]:
    """Prices that were put in by hand, newest first."""
    lines = AuditLine.objects.of(material.firm).filter(
        subject=subject_of(material.code), detail__has_key="price"
    )
    return [_price_change(line) for line in lines.select_related("by").order_by("-at", "-pk")[:50]]


def subject_of(code: str) -> str:
    """How audit lines name a material."""
    return f"material {code}"


def _price_change(line: AuditLine) -> PriceChange:
    before, after = line.detail["price"]
    day = line.detail.get("priced_on")
    return PriceChange(
        at=line.at,
        by=str(line.by) if line.by else "",
        before=before or "",
        after=after or "",
        priced_on=date.fromisoformat(day) if day else None,
    )
