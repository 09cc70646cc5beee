"""Pages about materials and their prices, for owner and office."""

from functools import partial
from typing import Any

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_safe

from labour.firm.access import OFFICE, MemberRequest, page
from labour.firm.forms import submit
from quoting.catalogue import services
from quoting.catalogue.examples import worked_uses_of
from quoting.catalogue.forms import FindForm, MaterialForm, NewMaterialForm, PriceForm
from quoting.catalogue.models import MaterialRow
from quoting.catalogue.queries import (
    count_missing_prices,
    get_material,
    list_materials,
    list_price_changes,
    list_rules_of,
    unit_price_of,
)
from quoting.engine.materials.values import Material


@page(*OFFICE)
@require_safe
def materials(request: MemberRequest) -> HttpResponse:
    """The price list, with search."""
    form = FindForm(request.GET)
    asked = form.cleaned_data if form.is_valid() else {}
    search, category, missing = (asked.get(name, "") for name in ("search", "category", "missing"))
    given = {
        "form": form,
        "is_searched": bool(search or category or missing),
        "materials": list_materials(request.firm, search, category, only_missing=bool(missing)),
        "missing": count_missing_prices(request.firm),
    }
    return render(request, "catalogue/materials.html", given)


@page(*OFFICE)
@require_http_methods(["GET", "HEAD", "POST"])
def material(request: MemberRequest, code: str) -> HttpResponse:
    """A material: its price, the tasks that use it, and earlier prices."""
    row = get_material(request.firm, code)
    at = timezone.now()
    initial = {"price": row.price, "priced_on": timezone.localdate(at)}
    form = PriceForm(request.POST if request.method == "POST" else None, initial=initial)
    act = partial(services.change_price, firm=request.firm, code=code, by=request.member.user, at=at)
    if form.is_bound and submit(form, act) is not None:
        messages.success(request, "The price is saved. Quotes that are sent already keep theirs.")
        return redirect("material", code=code)
    given = {
        "form": form,
        "material": row,
        "unit_price": unit_price_of(row),
        "uses": worked_uses_of(list_rules_of(row)),
        "changes": list_price_changes(row),
    }
    return render(request, "catalogue/material.html", given)


@page(*OFFICE)
@require_http_methods(["GET", "HEAD", "POST"])
def edit_material(request: MemberRequest, code: str) -> HttpResponse:
    """Name, pack, category and price of a material."""
    row = get_material(request.firm, code)
    initial = {name: getattr(row, name) for name in MaterialForm.base_fields}
    form = MaterialForm(request.POST if request.method == "POST" else None, initial=initial)

    def change(**typed: Any) -> MaterialRow:
        changed = Material(code=code, **typed)
        return services.change_material(
            firm=request.firm, material=changed, by=request.member.user, at=timezone.now()
        )

    if form.is_bound and submit(form, change) is not None:
        messages.success(request, "The material is saved.")
        return redirect("material", code=code)
    return render(request, "catalogue/material_edit.html", {"form": form, "material": row})


@page(*OFFICE)
@require_http_methods(["GET", "HEAD", "POST"])
def add_material(request: MemberRequest) -> HttpResponse:
    """A new material."""
    form = NewMaterialForm(request.POST if request.method == "POST" else None)

    def add(**typed: Any) -> MaterialRow:
        return services.add_material(
            firm=request.firm, material=Material(**typed), by=request.member.user, at=timezone.now()
        )

    row = submit(form, add) if form.is_bound else None
    if row is None:
        return render(request, "catalogue/material_add.html", {"form": form})
    messages.success(request, f"{row.name} is on the list.")
    return redirect("material", code=row.code)
