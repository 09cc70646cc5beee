"""A table out of a file: CSV text or a spreadsheet comes in, its header and rows as text go out."""

import csv
import io
import zipfile
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Any

from openpyxl import load_workbook

from labour.engine.refusal import Problem, Refusal

MOST_BYTES = 2_000_000
MOST_ROWS = 5_000
MOST_COLUMNS = 40
MOST_LETTERS = 200
_SPREADSHEET = b"PK"


class BadTable(Refusal):
    """The file is no table that can be read."""


@dataclass(frozen=True, slots=True)
class Table:
    """Cells as text. header: words of the first row that is not empty."""

    header: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def read_table(content: bytes) -> Table:
    """The table of a CSV file (comma, semicolon or tab) or of the first sheet of an .xlsx.

    Raise BadTable for anything else, an empty table, or one that is too big.
    """
    if len(content) > MOST_BYTES:
        raise _refuse(f"The file has {len(content):,} bytes; {MOST_BYTES:,} is the most.")
    cells = _sheet(content) if content.startswith(_SPREADSHEET) else _csv(content)
    return table_of(cells)


def table_of(cells: Iterable[Sequence[str]]) -> Table:
    """A table from rows of text, the first that is not empty being the header. Raise BadTable."""
    filled = (tuple(cell.strip()[:MOST_LETTERS] for cell in row) for row in cells)
    rows: list[tuple[str, ...]] = []
    for row in filled:
        if not rows and not any(row):
            continue
        if len(row) > MOST_COLUMNS:
            raise _refuse(f"A row has {len(row)} columns; {MOST_COLUMNS} are the most.")
        rows.append(row)
        if len(rows) > MOST_ROWS + 1:
            raise _refuse(f"The table has more than {MOST_ROWS:,} rows; bring it in in parts.")
    if len(rows) < 2:
        raise _refuse("The table needs a row of headings and at least one row under it.")
    return Table(rows[0], tuple(rows[1:]))


def _refuse(message: str) -> BadTable:
    return BadTable(Problem("file", message))


def _csv(content: bytes) -> list[list[str]]:
    if b"\0" in content:
        raise _refuse("This is not a CSV file or an .xlsx spreadsheet.")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("cp1252", errors="replace")
    first = next((line for line in text.splitlines() if line.strip()), "")
    delimiter = max(",;\t", key=first.count)
    try:
        return list(csv.reader(io.StringIO(text), delimiter=delimiter))
    except csv.Error as error:
        raise _refuse(f"This is not a CSV file: {error}.") from None


def _sheet(content: bytes) -> list[list[str]]:
    try:
        book = load_workbook(io.BytesIO(content), read_only=True, data_only=True)
        sheet = book.worksheets[0]
        rows = sheet.iter_rows(max_row=MOST_ROWS + 50, max_col=MOST_COLUMNS + 1, values_only=True)
        return [_trimmed([_text(value) for value in row]) for row in rows]
    except (zipfile.BadZipFile, KeyError, ValueError, IndexError, OSError, EOFError):
        raise _refuse("This spreadsheet can not be opened; save it as .xlsx or CSV.") from None


def _trimmed(cells: list[str]) -> list[str]:
    while cells and not cells[-1]:
        cells.pop()
    return cells


def _text(value: Any) -> str:
    match value:
        case None:
            return ""
        case datetime():
            return value.date().isoformat() if value.time() == time() else value.isoformat(" ")
        case date():
            return value.isoformat()
        case float() if value.is_integer():
            return str(int(value))
        case float():
            return f"{value:.6f}".rstrip("0")
        case _:
            return str(value)
