"""Routes of materials, their prices, and the rules by which tasks use them; for owner and office."""

from collections.abc import Iterable
from typing import Any

from ninja import Router, Status

from labour.firm.access import OFFICE, MemberRequest
from labour.firm.api_access import at_by, only
from labour.firm.api_values import Search
from labour.ratebook.queries import get_task_row
from quoting.catalogue import services
from quoting.catalogue.examples import worked_uses_of
from quoting.catalogue.models import ConsumptionRow, MaterialRow
from quoting.catalogue.queries import (
    count_missing_prices,
    get_material,
    list_materials,
    list_price_changes,
    list_rules_of,
    list_rules_of_task,
    unit_price_of,
)
from quoting.catalogue.schemas import MaterialChange, MaterialIn, MaterialList, MaterialOut, PriceIn, UseOut
from quoting.engine.materials.values import Material
from quoting.engine.pricing.values import Category

router = Router(tags=["materials"])

_SHOWN = ("code", "name", "category", "content_unit", "pack_name", "pack_size", "price", "priced_on")


@router.get("/materials", response=MaterialList)
@only(*OFFICE)
def get_materials(
    request: MemberRequest, search: Search = "", category: Category | None = None, missing: bool = False
) -> Any:
    """The price list. The search looks in name, code and supplier; missing: only those without a price."""
    found = list_materials(request.firm, search, category or "", only_missing=missing)
    rows = [_shown(material.row) for material in found]
    return {"materials": rows, "missing_prices": count_missing_prices(request.firm)}


@router.post("/materials", response={201: MaterialOut})
@only(*OFFICE)
def add_material(request: MemberRequest, body: MaterialIn) -> Any:
    """Put a new material on the list."""
    material = Material(**dict(body))
    return Status(201, _whole(services.add_material(firm=request.firm, material=material, **at_by(request))))


@router.get("/materials/{slug:code}", response=MaterialOut)
@only(*OFFICE)
def read_material(request: MemberRequest, code: str) -> Any:
    """A material: its price, the tasks that use it, and earlier prices."""
    return _whole(get_material(request.firm, code))


@router.put("/materials/{slug:code}", response=MaterialOut)
@only(*OFFICE)
def change_material(request: MemberRequest, code: str, body: MaterialChange) -> Any:
    """Change everything about a material but its code."""
    material = Material(code=code, **dict(body))
    return _whole(services.change_material(firm=request.firm, material=material, **at_by(request)))


@router.put("/materials/{slug:code}/price", response=MaterialOut)
@only(*OFFICE)
def change_price(request: MemberRequest, code: str, body: PriceIn) -> Any:
    """Put in the price of one pack. Quotes that are sent already keep theirs."""
    return _whole(services.change_price(firm=request.firm, code=code, **dict(body), **at_by(request)))


@router.get("/rate-book/{slug:code}/materials", response=list[UseOut])
@only(*OFFICE)
def get_rules_of_task(request: MemberRequest, code: str) -> Any:
    """The rules by which a task uses materials, each with a worked example."""
    return _rules(list_rules_of_task(get_task_row(request.firm, code)))


def _shown(row: MaterialRow) -> dict[str, Any]:
    more = {"supplier": row.supplier, "unit_price": unit_price_of(row)}
    return {name: getattr(row, name) for name in _SHOWN} | more


def _whole(row: MaterialRow) -> dict[str, Any]:
    uses = {"uses": _rules(list_rules_of(row)), "price_changes": list_price_changes(row)}
    return _shown(row) | uses


def _rules(rows: Iterable[ConsumptionRow]) -> list[dict[str, Any]]:
    named = ("kind", "values", "waste_percent", "when", "source")
    return [
        {name: getattr(use.rule, name) for name in named}
        | {"task": use.rule.task.code, "material": use.rule.material.code}
        | {"example": use.example, "formula": use.formula, "worked": use.worked}
        for use in worked_uses_of(rows)
    ]
