"""Reads rate-book files: TOML tables come in, checked tasks go out."""

import tomllib
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from labour.engine.refusal import Problem, Refusal
from labour.engine.task_check import BadTask, task_from
from labour.engine.tasks import Task

STARTING_BOOK = Path(__file__).resolve().parents[2] / "fixtures" / "ratebook"
"""The rate book with which a firm starts."""


class BadRateBook(Refusal):
    """Files that are not a rate book; each problem names file, task and field."""


def read_rate_book(folder: Path = STARTING_BOOK) -> tuple[Task, ...]:
    """All tasks of the folder's *.toml files, in the order of the file names.

    Raise BadRateBook with a problem "file, task, field: what would be right" for everything wrong.
    """
    files = sorted(folder.glob("*.toml"))
    if not files:
        raise BadRateBook(Problem("", f"There is no rate-book file (*.toml) in {folder.name}."))
    problems: list[Problem] = []
    found: dict[str, tuple[str, Task]] = {}
    for file in files:
        for task in _read_file(file, problems):
            if task.code in found:
                earlier = found[task.code][0]
                reason = f"This code is already used in {earlier}; every task needs its own."
                problems.append(Problem(f"{file.name}, {task.code}, code", reason))
            found.setdefault(task.code, (file.name, task))
    if problems:
        raise BadRateBook(*problems)
    return tuple(task for _, task in found.values())


def _read_file(file: Path, problems: list[Problem]) -> list[Task]:
    try:
        tables: dict[str, Any] = tomllib.loads(file.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        problems.append(Problem(file.name, f"This is not TOML: {error}."))
        return []
    rows = tables.get("task")
    if set(tables) != {"task"} or not isinstance(rows, list):
        problems.append(Problem(file.name, "A rate-book file holds [[task]] tables and nothing else."))
        return []
    return _read_rows(file.name, rows, problems)


def _read_rows(file_name: str, rows: Sequence[Any], problems: list[Problem]) -> list[Task]:
    tasks = []
    for place, row in enumerate(rows, start=1):
        if not isinstance(row, dict):
            problems.append(Problem(f"{file_name}, task {place}", "Write it as a [[task]] table."))
            continue
        label = f"{file_name}, {row.get('code') or f'task {place}'}"
        try:
            tasks.append(task_from(row))
        except BadTask as bad:
            problems.extend(Problem(f"{label}, {p.field}", p.message) for p in bad.problems)
    return tasks
