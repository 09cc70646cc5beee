"""Reads scope templates from a folder of TOML files.

Comes in: a folder with one file a template, whose slug is the file's name, and a folder `parts` of lines.
Goes out: templates with their parts put in, or a refusal that names file, line and expression.
A part that was brought in once is not repeated when another part brings it in again.
"""

import re
import tomllib
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from labour.engine.expressions import BadExpression, parse_condition, parse_quantity
from labour.engine.refusal import Problem, Refusal
from labour.engine.scope import LineKind, ScopeLine, ScopeTemplate

SHIPPED = Path(__file__).resolve().parents[2] / "fixtures" / "scopes"
_CODES = {"task": LineKind.TASK, "item": LineKind.ITEM, "unit_price": LineKind.UNIT_PRICE}
_TEMPLATE_KEYS = {"name", "summary", "exclusions", "include", "line"}
_PART_KEYS = {"exclusions", "include", "line"}
_LINE_KEYS = {*_CODES, "quantity", "when", "option", "unless"}
_LINE_HEADER = re.compile(r"^\s*\[\[\s*line\s*\]\]", re.MULTILINE)
_SLUG = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


class BadTemplateFile(Refusal):
    """A template file cannot be read; every problem names its file and the line in it."""


@dataclass
class _Reader:
    """Collects the lines of one template and what is wrong with them."""

    parts: Path
    lines: list[ScopeLine] = field(default_factory=list)
    exclusions: list[str] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    done: set[Path] = field(default_factory=set)


def read_templates(folder: Path = SHIPPED) -> tuple[ScopeTemplate, ...]:
    """Every template of a folder, by slug. Raise BadTemplateFile with all problems of all files."""
    templates: list[ScopeTemplate] = []
    problems: list[Problem] = []
    for file in sorted(folder.glob("*.toml")):
        try:
            templates.append(read_template(file))
        except BadTemplateFile as error:
            problems += error.problems
    if problems:
        raise BadTemplateFile(*dict.fromkeys(problems))
    return tuple(templates)


def read_template(file: Path) -> ScopeTemplate:
    """The template of a file with its parts. Raise BadTemplateFile with all of its problems."""
    reader = _Reader(parts=file.parent / "parts")
    table = _read_file(reader, file, above=(), keys=_TEMPLATE_KEYS)
    for key in ("name", "summary"):
        if not isinstance(table.get(key), str) or not str(table.get(key)).strip():
            reader.problems.append(Problem(file.name, f'needs {key} = "…"'))
    if not _SLUG.fullmatch(file.stem):
        reader.problems.append(Problem(file.name, "name the file with small letters, digits and hyphens"))
    if not reader.lines and not reader.problems:
        reader.problems.append(Problem(file.name, "has no lines; add a [[line]] or include a part"))
    if reader.problems:
        raise BadTemplateFile(*reader.problems)
    return ScopeTemplate(
        slug=file.stem,
        name=table["name"],
        summary=table["summary"],
        lines=number_lines(reader.lines),
        exclusions=tuple(dict.fromkeys(reader.exclusions)),
    )


def number_lines(lines: list[ScopeLine]) -> tuple[ScopeLine, ...]:
    """The lines with keys that say their place, as the stored template gives them."""
    return tuple(replace(line, key=f"{place:03d}-{line.code}") for place, line in enumerate(lines, start=1))


def _read_file(reader: _Reader, file: Path, above: tuple[Path, ...], keys: set[str]) -> dict[str, Any]:
    """Bring in a file: its parts first, then its own lines. Give its table, empty when it cannot be read."""
    reader.done.add(file)
    try:
        text = file.read_text(encoding="utf-8")
        table = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        reader.problems.append(Problem(file.name, f"is not readable as TOML: {error}"))
        return {}
    known = ", ".join(sorted(keys))
    for key in table.keys() - keys:
        reader.problems.append(Problem(file.name, f"{key} is not known here; known: {known}"))
    for name in _texts(reader, file, table, "include"):
        _include(reader, file, name, above)
    reader.exclusions += _texts(reader, file, table, "exclusions")
    rows, places = table.get("line", []), _places(file.name, text)
    if not isinstance(rows, list) or len(rows) != len(places):
        reader.problems.append(Problem(file.name, "write every line as a [[line]] table of its own"))
        return table
    for row, at in zip(rows, places, strict=True):
        _read_line(reader, row, at)
    return table


def _places(name: str, text: str) -> list[str]:
    """Where each [[line]] of a file stands, for messages."""
    headers = _LINE_HEADER.finditer(text)
    return [f"{name} line {text.count(chr(10), 0, header.end()) + 1}" for header in headers]


def _include(reader: _Reader, file: Path, name: str, above: tuple[Path, ...]) -> None:
    part = reader.parts / f"{name}.toml"
    chain = (*above, file)
    if part in chain:
        circle = " → ".join(step.stem for step in (*chain[chain.index(part) :], part))
        reader.problems.append(Problem(file.name, f"parts include each other in a circle: {circle}"))
    elif not _SLUG.fullmatch(name) or not part.is_file():
        known = ", ".join(sorted(known.stem for known in reader.parts.glob("*.toml"))) or "none"
        reader.problems.append(Problem(file.name, f"includes {name}, which is not a part; parts: {known}"))
    elif part not in reader.done:
        _read_file(reader, part, chain, _PART_KEYS)


def _texts(reader: _Reader, file: Path, table: dict[str, Any], key: str) -> list[str]:
    values = table.get(key, [])
    if isinstance(values, list) and all(isinstance(value, str) and value.strip() for value in values):
        return values
    reader.problems.append(Problem(file.name, f'{key} must be a list of texts: {key} = ["…", "…"]'))
    return []


def _read_line(reader: _Reader, row: object, at: str) -> None:
    if not isinstance(row, dict) or not all(isinstance(value, str) for value in row.values()):
        reader.problems.append(Problem(at, 'needs texts, as in task = "set-toilet" and quantity = "1"'))
        return
    codes = row.keys() & _CODES.keys()
    unknown = row.keys() - _LINE_KEYS
    if unknown or len(codes) != 1 or "quantity" not in row:
        wanted = "needs one of task, item, unit_price, then quantity; when, option and unless if wanted"
        reader.problems.append(Problem(at, f"{wanted}; it has {', '.join(sorted(row)) or 'nothing'}"))
        return
    key = codes.pop()
    _check_expressions(reader, row, at)
    further = {name: row[name] for name in ("when", "option", "unless") if name in row}
    reader.lines.append(ScopeLine("", _CODES[key], row[key], row["quantity"], **further))


def _check_expressions(reader: _Reader, row: dict[str, str], at: str) -> None:
    for key, parse in (("quantity", parse_quantity), ("when", parse_condition)):
        try:
            parse(row.get(key, ""))
        except BadExpression as error:
            reader.problems.append(Problem(f"{at} {key}", str(error)))
