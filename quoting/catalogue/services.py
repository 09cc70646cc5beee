"""Changing the catalogue: the only way to do it, for pages, API and commands.

Comes in: the firm, plain values, the moment and the person. Goes out: the saved row, and an audit line for
every change by hand. A refusal names each field and what would be right, and nothing is saved.
"""

from datetime import date, datetime
from decimal import Decimal

from django.db import transaction

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import AuditLine, Firm, User
from quoting.catalogue.checks import DETAILS, copy_to_row, problems_of, row_of
from quoting.catalogue.loading import CannotLoadCatalogue, load_catalogue
from quoting.catalogue.models import MaterialRow
from quoting.catalogue.queries import get_material, list_rules_of, subject_of
from quoting.engine.materials.rule_checks import check_unit
from quoting.engine.materials.values import Material

__all__ = [
    "CannotAddMaterial",
    "CannotChangeMaterial",
    "CannotChangePrice",
    "CannotLoadCatalogue",
    "add_material",
    "change_material",
    "change_price",
    "load_catalogue",
]


class CannotAddMaterial(Refusal):
    """A new material cannot be kept as it is."""


class CannotChangeMaterial(Refusal):
    """A material cannot be kept as it is."""


class CannotChangePrice(Refusal):
    """The price was not put in."""


@transaction.atomic
def add_material(*, firm: Firm, material: Material, by: User | None, at: datetime) -> MaterialRow:
    """Put a new material on the list. Raise `CannotAddMaterial`."""
    row = row_of(firm, material)
    problems = problems_of(row, at)
    if MaterialRow.objects.of(firm).filter(code=material.code).exists():
        problems.append(Problem("code", f"“{material.code}” is on the list already; choose another code."))
    if problems:
        raise CannotAddMaterial(*problems)
    row.save(force_insert=True)
    _audit(row, "add material", by, at, {"price": [None, _text(row.price)], "priced_on": _day(row)})
    return row


@transaction.atomic
def change_material(*, firm: Firm, material: Material, by: User | None, at: datetime) -> MaterialRow:
    """Replace everything that is known of the material with this code. Raise `CannotChangeMaterial`.

    A content unit that a rule of kind film, bed, grout, sheet or fasteners relies on cannot change.
    """
    row = _locked(firm, material.code)
    before = row.to_engine()
    copy_to_row(material, row)
    problems = problems_of(row, at) + _broken_rules(row, material)
    if problems:
        raise CannotChangeMaterial(*problems)
    if row.to_engine() == before:
        raise CannotChangeMaterial("Nothing is different from what was saved before.")
    row.save()
    detail: dict[str, object] = {
        name: [str(getattr(before, name)), str(getattr(material, name))]
        for name in DETAILS
        if getattr(before, name) != getattr(material, name)
    }
    if (before.price, before.priced_on) != (row.price, row.priced_on):
        detail |= {"price": [_text(before.price), _text(row.price)], "priced_on": _day(row)}
    _audit(row, "change material", by, at, detail)
    return row


@transaction.atomic
def change_price(
    *, firm: Firm, code: str, price: Decimal | None, priced_on: date, by: User | None, at: datetime
) -> MaterialRow:
    """Put in the price of one pack, or None when it is not known. Raise `CannotChangePrice`."""
    row = _locked(firm, code)
    before, known_on = row.price, row.priced_on
    row.price, row.priced_on = price, None if price is None else priced_on
    problems = problems_of(row, at)
    if problems:
        raise CannotChangePrice(*problems)
    if (before, known_on) == (row.price, row.priced_on):
        raise CannotChangePrice(Problem("price", "is this already, on this date; nothing was changed."))
    row.save(update_fields=["price", "priced_on"])
    _audit(row, "change price", by, at, {"price": [_text(before), _text(price)], "priced_on": _day(row)})
    return row


def _locked(firm: Firm, code: str) -> MaterialRow:
    return MaterialRow.objects.select_for_update().get(pk=get_material(firm, code).pk)


def _broken_rules(row: MaterialRow, material: Material) -> list[Problem]:
    broken = [problem for rule in list_rules_of(row) for problem in check_unit(rule.to_engine(), material)]
    return [Problem("content_unit", f"{problem.field}: {problem.message}") for problem in broken[:3]]


def _audit(row: MaterialRow, action: str, by: User | None, at: datetime, detail: dict[str, object]) -> None:
    subject = subject_of(row.code)
    AuditLine.objects.create(firm=row.firm, by=by, at=at, action=action, subject=subject, detail=detail)


def _text(price: Decimal | None) -> str | None:
    return None if price is None else str(price)


def _day(row: MaterialRow) -> str | None:
    return None if row.priced_on is None else row.priced_on.isoformat()
