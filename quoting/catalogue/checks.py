"""Materials as rows: made from plain values, and what is wrong with them.

Comes in: an engine `Material`, or a row that is not saved. Goes out: the row; problems by field.
"""

from datetime import datetime

from django.core.exceptions import ValidationError
from django.utils import timezone

from labour.engine.refusal import Problem
from labour.firm.models import Firm
from quoting.catalogue.models import MaterialRow
from quoting.engine.materials.values import Material

DETAILS = ("name", "category", "content_unit", "pack_name", "pack_size", "supplier")


def row_of(firm: Firm, material: Material) -> MaterialRow:
    """A row, not saved, that says the same as the plain value."""
    row = MaterialRow(firm=firm, code=material.code)
    copy_to_row(material, row)
    return row


def problems_of(row: MaterialRow, at: datetime | None = None) -> list[Problem]:
    """What is wrong with the fields of a row, each with what would be right."""
    problems = []
    try:
        row.clean_fields(exclude={"firm"})
    except ValidationError as error:
        problems = [Problem(field, " ".join(messages)) for field, messages in error.message_dict.items()]
    bad = {problem.field for problem in problems}
    if "pack_size" not in bad and row.pack_size <= 0:
        problems.append(Problem("pack_size", "must be above zero: how much one pack holds."))
    if row.price is not None and "price" not in bad and row.price < 0:
        problems.append(Problem("price", "must be zero or more; leave it empty while it is not known."))
    if at and row.price is not None and row.priced_on is None and "priced_on" not in bad:
        problems.append(Problem("priced_on", "Write the day on which you were told this price."))
    if at and row.priced_on and row.priced_on > timezone.localdate(at):
        problems.append(Problem("priced_on", "must not lie in the future; write the day you were quoted it."))
    return problems


def copy_to_row(material: Material, row: MaterialRow) -> None:
    """Let the row say what the plain value says; its code stays."""
    for name in DETAILS:
        setattr(row, name, getattr(material, name))
    row.category = material.category.value
    row.price, row.priced_on = material.price, material.priced_on
