"""Reads fields of a document against the format: raw values come in; typed values and problems go out.

A value that is wrong is reported with its path and stood in for, so that reading goes on and finds the rest;
nothing read is used once there is a problem.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from difflib import get_close_matches
from math import isfinite
from typing import Any

from labour.engine.refusal import Problem
from quoting.engine.measure.lengths import EXAMPLES, BadLength, Length, Unit, parse_length
from quoting.engine.measure.room_format import Field

STAND_IN = parse_length("1 ft")
MOST_SHOWN = 60
LARGEST = 10**9


@dataclass(slots=True)
class Report:
    """Problems found so far, and the unit of plain numbers."""

    unit: Unit = "ft"
    problems: list[Problem] = field(default_factory=list)

    def add(self, path: str, message: str) -> None:
        """One more thing that is wrong."""
        self.problems.append(Problem(path, message))


class Fields:
    """One object of the document. Its fields are read by name; absent ones give the default."""

    def __init__(self, spec: Field, raw: object, path: str, report: Report) -> None:
        self.spec, self.path, self.report = spec, path, report
        self.raw: dict[str, Any] = raw if isinstance(raw, dict) else {}
        if not isinstance(raw, dict):
            report.add(path, f"Write an object with {_listed(spec.fields)} here.")
            return
        for name in self.raw:
            if name not in spec.fields:
                report.add(self.at(name), _unknown(name, spec.fields))
        for name, inner in spec.fields.items():
            if inner.required and name not in self.raw:
                report.add(self.at(name), f"This is missing. {inner.meaning or 'It is needed'}.")

    def at(self, name: str) -> str:
        """Path to a field."""
        return f"{self.path}.{name}" if self.path else name

    def has(self, name: str) -> bool:
        """Whether the field is there."""
        return name in self.raw

    def text(self, name: str) -> str:
        """Text without control characters; "" when absent."""
        inner, value = self.spec.fields[name], self.raw.get(name, "")
        if not isinstance(value, str):
            self.report.add(self.at(name), f"Write text, not {show(value)}.")
            return ""
        if any(not c.isprintable() and c != "\n" for c in value):
            self.report.add(self.at(name), "Remove the characters that cannot be seen.")
        if len(value) > inner.most:
            self.report.add(self.at(name), f"At most {inner.most} characters; this has {len(value)}.")
        elif self.has(name) and inner.required and not value.strip():
            self.report.add(self.at(name), "This is empty; write at least one character.")
        return value.strip()

    def choice(self, name: str, default: str = "") -> str:
        """One of the allowed words."""
        if not self.has(name):
            return default
        return read_choice(self.spec.fields[name], self.raw[name], self.at(name), self.report) or default

    def whole(self, name: str, default: int) -> int:
        """A whole number within its bounds."""
        value = self.find_whole(name)
        return default if value is None else value

    def find_whole(self, name: str) -> int | None:
        """A whole number within its bounds; None when absent, or null where that is allowed."""
        inner, value = self.spec.fields[name], self.raw.get(name)
        if value is None and (inner.nullable or not self.has(name)):
            return None
        if isinstance(value, bool) or not isinstance(value, int) or not inner.least <= value <= inner.most:
            wanted = f"Write a whole number from {inner.least} to {inner.most}"
            self.report.add(self.at(name), f"{wanted}, not {show(value)}.")
            return inner.least
        return value

    def flag(self, name: str, default: bool) -> bool:
        """true or false."""
        value = self.raw.get(name, default)
        if not isinstance(value, bool):
            self.report.add(self.at(name), f"Write true or false, not {show(value)}.")
            return default
        return value

    def length(self, name: str, default: str = "") -> Length:
        """A length. Missing required ones are reported once, on opening the object."""
        found = self.find_length(name)
        return found or (parse_length(default, zero_ok=True) if default else STAND_IN)

    def find_length(self, name: str) -> Length | None:
        """A length, or None when absent."""
        if not self.has(name):
            return None
        zero_ok = not self.spec.fields[name].least
        return read_length(self.raw[name], self.at(name), self.report, zero_ok=zero_ok)

    def items(self, name: str) -> Iterator[tuple[str, Any]]:
        """The items of a list with their paths; none when absent."""
        inner, value = self.spec.fields[name], self.raw.get(name, [])
        if not isinstance(value, list):
            self.report.add(self.at(name), f"Write a list here, in [ ], not {show(value)}.")
            return
        if len(value) > inner.most or (self.has(name) and len(value) < inner.least):
            wanted = f"{inner.least} to {inner.most}" if inner.least else f"at most {inner.most}"
            self.report.add(self.at(name), f"This list has {len(value)} entries; write {wanted}.")
        for place, item in enumerate(value[: inner.most]):
            yield f"{self.at(name)}[{place}]", item


def read_length(raw: object, path: str, report: Report, *, zero_ok: bool = False) -> Length:
    """A length given as text or as a number in the default unit."""
    if isinstance(raw, bool) or not isinstance(raw, str | int | float):
        report.add(path, f"Write a length like {EXAMPLES}, not {show(raw)}.")
        return STAND_IN
    if isinstance(raw, float) and not isfinite(raw):
        report.add(path, "This number is not finite. Write a length like 62.5.")
        return STAND_IN
    if not isinstance(raw, str) and abs(raw) > LARGEST:
        report.add(path, f"This number is too large for a length. Write it like {EXAMPLES}.")
        return STAND_IN
    try:
        return parse_length(raw if isinstance(raw, str) else number_text(raw), report.unit, zero_ok=zero_ok)
    except BadLength as bad:
        report.problems += [Problem(path, problem.message) for problem in bad.problems]
        return STAND_IN


def read_choice(spec: Field, raw: object, path: str, report: Report) -> str:
    """One of the allowed words, or "" and a problem."""
    if isinstance(raw, str) and raw in spec.choices:
        return str(raw)
    near = get_close_matches(raw, spec.choices, 1) if isinstance(raw, str) else []
    hint = f" Did you mean “{near[0]}”?" if near else ""
    report.add(path, f"{show(raw)} is not known here. Write one of: {_listed(spec.choices)}.{hint}")
    return ""


def number_text(number: int | float) -> str:
    """A number as it was typed, without an exponent."""
    if isinstance(number, int):
        return str(number)
    text = repr(number)
    return f"{number:.12f}".rstrip("0").rstrip(".") if "e" in text else text.removesuffix(".0")


def show(raw: object) -> str:
    """A value for a message, cut short."""
    if isinstance(raw, str):
        return f"“{raw}”" if len(raw) <= MOST_SHOWN else f"“{raw[:MOST_SHOWN]}…”"
    if raw is None or isinstance(raw, bool):
        return {None: "null", True: "true", False: "false"}[raw]
    if isinstance(raw, int | float):
        return str(raw) if abs(raw) <= LARGEST else "a number of that size"
    return "an object" if isinstance(raw, dict) else "a list"


def _unknown(name: str, known: Iterable[str]) -> str:
    near = get_close_matches(name, list(known), 1)
    hint = f"Did you mean “{near[0]}”?" if near else f"Write one of: {_listed(known)}."
    return f"There is no field “{name[:MOST_SHOWN]}” here. {hint}"


def _listed(words: Iterable[str]) -> str:
    return ", ".join(words)
