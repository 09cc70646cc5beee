"""Reads price lists and rule files (TOML) into the engine's values.

Comes in: paths of files with [[material]] or [[rule]] entries. Goes out: `Material`s and `ConsumptionRule`s;
whatever is wrong is collected and refused at once, each problem with file, code and field.
"""

import tomllib
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from decimal import Decimal
from pathlib import Path
from typing import Any

from labour.engine.refusal import Problem, Refusal
from quoting.engine.materials.rule_checks import check_rule
from quoting.engine.materials.values import ConsumptionRule, Material, RuleKind
from quoting.engine.pricing.values import Category

_MATERIAL_FIELDS = {
    "code",
    "name",
    "category",
    "content_unit",
    "pack_name",
    "pack_size",
    "price",
    "priced_on",
    "supplier",
}
_RULE_FIELDS = {"task", "material", "kind", "values", "waste", "when", "source"}


class BadFile(Refusal):
    """A file of materials or rules that cannot be read; every problem in it is named."""


class _Entry:
    """One table of a file: asks for a field and keeps the problem when it is not right."""

    def __init__(self, table: Mapping[str, Any], place: str, problems: list[Problem]) -> None:
        self.table, self.place, self.problems = table, place, problems

    def refuse(self, field: str, message: str) -> None:
        self.problems.append(Problem(f"{self.place}, {field}", message))

    def text(self, field: str, *, default: str | None = None) -> str:
        value = self.table.get(field, default)
        if isinstance(value, str) and (value.strip() or default is not None):
            return value.strip()
        self.refuse(field, "must be text and not empty")
        return ""

    def number(self, field: str, default: Decimal | None = None) -> Decimal | None:
        """A finite number of zero or more; `default` when the field is not there."""
        if field not in self.table:
            return default
        value = self.table[field]
        if isinstance(value, int | Decimal) and not isinstance(value, bool):
            number = Decimal(value)
            if number.is_finite() and number >= 0:
                return number
        self.refuse(field, f"must be a number, zero or more, not {value!r}")
        return default

    def one_of[ChoiceT](self, field: str, kind: Callable[[str], ChoiceT], choices: Sequence[str]) -> ChoiceT:
        value = self.table.get(field)
        if value in choices:
            return kind(str(value))
        self.refuse(field, f"must be one of {', '.join(choices)}, not {value!r}")
        return kind(choices[0])

    def day(self, field: str) -> date | None:
        value = self.table.get(field)
        if value is None or type(value) is date:
            return value
        try:
            return date.fromisoformat(str(value))
        except ValueError:
            self.refuse(field, f"must be a date like 2026-10-01, not {value!r}")
            return None

    def no_others(self, known: Iterable[str]) -> None:
        for field in self.table.keys() - set(known):
            self.refuse(field, "is not known here; check the spelling")


def read_catalogue(folder: Path) -> tuple[tuple[Material, ...], tuple[ConsumptionRule, ...]]:
    """Materials and rules of a folder: rules are in the files called rules-…toml. Raise `BadFile`."""
    paths = sorted(folder.glob("*.toml"))
    if not paths:
        raise BadFile(Problem(str(folder.name), "has no .toml files; materials are read from them"))
    rules = [path for path in paths if path.name.startswith("rules-")]
    return read_materials(path for path in paths if path not in rules), read_rules(rules)


def read_materials(paths: Iterable[Path]) -> tuple[Material, ...]:
    """Materials of all files, in order. Raise `BadFile`; a code may come only once."""
    problems: list[Problem] = []
    materials: dict[str, Material] = {}
    for path in paths:
        content = _load(path, problems)
        defaults = {name: value for name, value in content.items() if name != "material"}
        for position, table in enumerate(_tables(content, "material", path, problems), 1):
            code = table.get("code")
            entry = _Entry({**defaults, **table}, f"{path.name}, {code or f'material {position}'}", problems)
            material = _material(entry)
            if material.code in materials:
                entry.refuse("code", "is there twice; a code names one material")
            materials[material.code] = material
    if problems:
        raise BadFile(*problems)
    return tuple(materials.values())


def read_rules(paths: Iterable[Path]) -> tuple[ConsumptionRule, ...]:
    """Rules of all files, in order, each checked as far as it can be alone. Raise `BadFile`."""
    problems: list[Problem] = []
    rules: list[ConsumptionRule] = []
    for path in paths:
        for position, table in enumerate(_tables(_load(path, problems), "rule", path, problems), 1):
            task = table.get("task")
            known = len(problems)
            rule = _rule(_Entry(table, f"{path.name}, rule {position} ({task})", problems))
            if len(problems) == known:
                problems += [Problem(f"{path.name}: {p.field}", p.message) for p in check_rule(rule)]
            rules.append(rule)
    if problems:
        raise BadFile(*problems)
    return tuple(rules)


def _load(path: Path, problems: list[Problem]) -> dict[str, Any]:
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"), parse_float=Decimal)
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        problems.append(Problem(path.name, f"cannot be read: {error}"))
        return {}


def _tables(
    content: Mapping[str, Any], name: str, path: Path, problems: list[Problem]
) -> list[dict[str, Any]]:
    tables = content.get(name, [])
    if isinstance(tables, list) and all(isinstance(table, dict) for table in tables):
        return tables
    problems.append(Problem(f"{path.name}, {name}", f"must be written as [[{name}]] entries"))
    return []


def _material(entry: _Entry) -> Material:
    entry.no_others(_MATERIAL_FIELDS)
    bought = [category.value for category in Category if category is not Category.LABOUR]
    pack_size = entry.number("pack_size")
    if not pack_size:
        entry.refuse("pack_size", "must be there and above zero: how much one pack holds")
    return Material(
        code=entry.text("code"),
        name=entry.text("name"),
        category=entry.one_of("category", Category, bought),
        content_unit=entry.text("content_unit"),
        pack_name=entry.text("pack_name"),
        pack_size=pack_size or Decimal(1),
        price=entry.number("price"),
        priced_on=entry.day("priced_on"),
        supplier=entry.text("supplier", default=""),
    )


def _rule(entry: _Entry) -> ConsumptionRule:
    entry.no_others(_RULE_FIELDS)
    return ConsumptionRule(
        task_code=entry.text("task"),
        material_code=entry.text("material"),
        kind=entry.one_of("kind", RuleKind, [kind.value for kind in RuleKind]),
        values=_values(entry),
        waste=entry.number("waste", Decimal(0)) or Decimal(0),
        when=entry.text("when", default=""),
        source=entry.text("source"),
    )


def _values(entry: _Entry) -> dict[str, Decimal]:
    table = entry.table.get("values", {})
    if not isinstance(table, dict):
        entry.refuse("values", "must be written like { covers = 300, coats = 2 }")
        return {}
    inner = _Entry(table, f"{entry.place}, values", entry.problems)
    return {name: inner.number(name) or Decimal(0) for name in table}
