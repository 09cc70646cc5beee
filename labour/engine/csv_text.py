"""Rows as CSV text for any spreadsheet: plain column names, a point in decimals.

A text that a spreadsheet would take for a formula gets an apostrophe in front, so that it stays text.
"""

import csv
from collections.abc import Iterable, Mapping
from datetime import date
from decimal import Decimal
from io import StringIO

type Cell = str | Decimal | date
type Row = Mapping[str, Cell]

_STARTS_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def write_csv(columns: Iterable[str], rows: Iterable[Row]) -> str:
    """The rows as CSV with a header line."""
    text = StringIO()
    writer = csv.DictWriter(text, list(columns), lineterminator="\r\n")
    writer.writeheader()
    writer.writerows({name: safe_cell(cell) for name, cell in row.items()} for row in rows)
    return text.getvalue()


def safe_cell(cell: Cell) -> str:
    """A cell as text. Numbers and days stay as they are; text never starts a formula.

    >>> safe_cell("=1+1"), safe_cell(Decimal("-12.50"))
    ("'=1+1", '-12.50')
    """
    if isinstance(cell, str):
        return f"'{cell}" if cell.lstrip(" ").startswith(_STARTS_FORMULA) else cell
    return f"{cell:f}" if isinstance(cell, Decimal) else cell.isoformat()
