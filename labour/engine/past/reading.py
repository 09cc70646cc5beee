"""Reads a table of past jobs row by row: cells come in, jobs and left rows with their reasons go out."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from labour.engine.past.cells import (
    Unreadable,
    condition_of,
    day_of,
    hours_of,
    in_unit,
    number_of,
    split_cell,
    unit_of,
)
from labour.engine.past.joining import join_rows
from labour.engine.past.values import (
    MONEY,
    Column,
    Firm,
    LeftRow,
    Matching,
    Part,
    PastRead,
    PastRow,
)


def read_past(rows: Sequence[Sequence[str]], matching: Matching, firm: Firm, today: date) -> PastRead:
    """Jobs of a table without its header, and every row that is left out with all its reasons.

    A row with several tasks stays one entry of all of them: its hours are not split. Empty rows are passed
    over.
    """
    reader = _Reader(matching, firm, today)
    for line, cells in enumerate(rows, start=2):
        if any(cell.strip() for cell in cells):
            reader.read(line, tuple(cells))
    jobs, left = join_rows(reader.good, firm)
    by_line = {row.line: row for row in reader.left} | {row.line: row for row in _with_cells(left, rows)}
    return PastRead(jobs, tuple(by_line[line] for line in sorted(by_line)), tuple(reader.unknown))


def _with_cells(left: Iterable[tuple[int, str]], rows: Sequence[Sequence[str]]) -> list[LeftRow]:
    return [LeftRow(line, tuple(rows[line - 2]), (reason,)) for line, reason in left]


@dataclass
class _Reader:
    matching: Matching
    firm: Firm
    today: date
    good: list[PastRow] = field(default_factory=list)
    left: list[LeftRow] = field(default_factory=list)
    unknown: dict[str, None] = field(default_factory=dict)

    def read(self, line: int, cells: tuple[str, ...]) -> None:
        """Read one row into `good` or `left`."""
        reasons: list[str] = []

        def attempt[ValueT](read: Callable[[], ValueT]) -> ValueT | None:
            try:
                return read()
            except Unreadable as bad:
                reasons.append(str(bad))
                return None

        job = attempt(lambda: self._job(cells))
        on = attempt(lambda: day_of(self._cell(cells, Column.DAY), self.matching.day_order, self.today))
        hours = attempt(lambda: hours_of(self._cell(cells, Column.HOURS)))
        parts = attempt(lambda: self._parts(cells))
        named = split_cell(self._cell(cells, Column.CONDITIONS))
        conditions = attempt(lambda: tuple(condition_of(word) for word in named))
        money = attempt(lambda: self._money(cells))
        if reasons or job is None or on is None or hours is None or parts is None:
            self.left.append(LeftRow(line, cells, tuple(reasons)))
            return
        room, worker = self._cell(cells, Column.ROOM), self._cell(cells, Column.WORKER)
        self.good.append(
            PastRow(line, job, on, parts, hours, room[:80], worker[:80], conditions or (), money or {})
        )

    def _cell(self, cells: tuple[str, ...], column: Column) -> str:
        place = self.matching.columns.get(column)
        return cells[place].strip() if place is not None and place < len(cells) else ""

    def _job(self, cells: tuple[str, ...]) -> str:
        name = " ".join(self._cell(cells, Column.JOB).split())
        if not name or len(name) > 120 or not name.isprintable():
            raise Unreadable("the job has no name of 1 to 120 characters")
        return name

    def _parts(self, cells: tuple[str, ...]) -> tuple[Part, ...]:
        words = split_cell(self._cell(cells, Column.TASK))
        quantities = split_cell(self._cell(cells, Column.QUANTITY))
        units = split_cell(self._cell(cells, Column.UNIT))
        if not words:
            raise Unreadable("no task is named")
        codes = [self._code(word) for word in words]
        missing = [word for word, code in zip(words, codes, strict=True) if code is None]
        if missing:
            raise Unreadable("; ".join(f"“{word[:40]}” is no task of the rate book" for word in missing))
        if len(set(codes)) < len(codes):
            raise Unreadable("a task is named twice")
        if len(quantities) not in (0, len(words)) or len(units) not in (0, 1, len(words)):
            raise Unreadable(f"{len(words)} tasks need {len(words)} quantities, with ; between them")
        units = units * len(words) if len(units) == 1 else units
        return tuple(
            Part(code, self._quantity(code, quantities[place], units[place] if units else ""))
            if quantities
            else Part(code, None)
            for place, code in enumerate(code for code in codes if code)
        )

    def _code(self, word: str) -> str | None:
        plain = word.casefold()
        by_words = {key.casefold(): code for key, code in self.matching.tasks.items()}
        code = by_words.get(plain)
        if code is None:
            names = {task.name.casefold(): code for code, task in self.firm.tasks.items()}
            code = plain if plain in self.firm.tasks else names.get(plain)
        if code is None or code not in self.firm.tasks:
            self.unknown.setdefault(word)
            return None
        return code

    def _quantity(self, code: str, text: str, unit: str) -> Decimal:
        task = self.firm.tasks[code]
        quantity = number_of(text, "quantity")
        if not 0 < quantity <= 1_000_000:
            raise Unreadable(f"the quantity is {text[:30]}; it must be more than 0")
        if not unit and not self.matching.own_units:
            raise Unreadable(
                f"the quantity has no unit; the task “{task.name}” is counted in {task.unit.label}"
            )
        return in_unit(quantity, unit_of(unit) if unit else task.unit, task.unit)

    def _money(self, cells: tuple[str, ...]) -> dict[Column, Decimal]:
        money = {}
        for column in MONEY:
            text = self._cell(cells, column)
            if text:
                money[column] = number_of(text, column.value)
                if money[column] < 0:
                    raise Unreadable(f"{column.value} is {text[:30]}; it must be 0 or more")
        return money
