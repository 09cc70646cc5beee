"""The door of the rate book: named fields come in as text or numbers, a checked Task goes out.

Files, forms and the API all pass here, so that one rule holds for all of them.
"""

import re
from collections.abc import Callable, Mapping
from decimal import Decimal, InvalidOperation
from typing import Any

from labour.engine.cautions import CAUTIONS
from labour.engine.refusal import Problem, Refusal
from labour.engine.tasks import Task
from labour.engine.units import UNITS
from labour.engine.vocabulary import CONDITIONS, Phase

LICENCES = ("", "plumbing", "electrical")
LARGEST_FACTOR = Decimal(5)
LARGEST_CREW = 12

_TEXT_LIMITS = {"name": 120, "client_text": 200, "source": 240}
_NUMBER_LIMITS = {
    "rate": (Decimal("0.001"), Decimal(100_000), 3),
    "rate_low": (Decimal("0.001"), Decimal(100_000), 3),
    "rate_high": (Decimal("0.001"), Decimal(100_000), 3),
    "setup_hours": (Decimal(0), Decimal(100), 2),
    "cure_hours": (Decimal(0), Decimal(2_000), 1),
}
_OPTIONAL: dict[str, Any] = {"conditions": {}, "cure_hours": "0", "cautions": [], "licence": ""}
FIELDS = (
    *("code", "name", "client_text", "phase", "unit", "rate", "rate_low", "rate_high", "setup_hours"),
    *("crew_min", "crew_max", "conditions", "cure_hours", "cautions", "licence", "source"),
)


class BadTask(Refusal):
    """A task that cannot stand in the rate book; each problem names its field."""


class _Wrong(ValueError):
    """One field's fault, in words."""


def task_from(fields: Mapping[str, Any]) -> Task:
    """A task from its fields, named as in FIELDS; those with a usual value may be left out: conditions,
    cure_hours, cautions, licence.

    Raise BadTask with one problem for each wrong, missing or unknown field.
    """
    problems = [
        Problem(name, "There is no such field of a task.") for name in sorted(fields.keys() - set(FIELDS))
    ]
    read: dict[str, Any] = {}
    for name in FIELDS:
        try:
            read[name] = _read_field(name, fields)
        except _Wrong as wrong:
            problems.append(Problem(name, str(wrong)))
    problems.extend(_order_problems(read))
    if problems:
        raise BadTask(*problems)
    return Task(unit_code=read.pop("unit"), **read)


def _read_field(name: str, fields: Mapping[str, Any]) -> Any:
    if name not in fields and name not in _OPTIONAL:
        raise _Wrong("Missing: every task needs it.")
    value = fields.get(name, _OPTIONAL.get(name))
    if name in _TEXT_LIMITS:
        return _text(value, _TEXT_LIMITS[name])
    if name in _NUMBER_LIMITS:
        return _number(value, *_NUMBER_LIMITS[name])
    return _READERS[name](value)


def _text(value: Any, longest: int) -> str:
    if not isinstance(value, str) or not value.strip():
        raise _Wrong("Write some words here.")
    if len(value.strip()) > longest:
        raise _Wrong(f"At most {longest} characters; these are {len(value.strip())}.")
    return value.strip()


def _number(value: Any, least: Decimal, most: Decimal, places: int) -> Decimal:
    if isinstance(value, bool) or not isinstance(value, str | int | Decimal):
        raise _Wrong(f"{value!r} is not a decimal; write it as text, such as “14.5”.")
    try:
        number = Decimal(value)
    except InvalidOperation:
        raise _Wrong(f"“{value}” is not a number; write one such as 14.5.") from None
    if not number.is_finite() or not least <= number <= most:
        raise _Wrong(f"{value} must be a number from {least:f} to {most:f}.")
    if number != round(number, places):
        raise _Wrong(f"{value} has more than {places} decimals.")
    return number


def _code(value: Any) -> str:
    if not isinstance(value, str) or not re.fullmatch(r"[a-z0-9]+(-[a-z0-9]+)*", value) or len(value) > 40:
        raise _Wrong("Use lower-case letters, digits and hyphens, at most 40, such as “tile-floor-medium”.")
    return value


def _one_of(known: tuple[str, ...]) -> Callable[[Any], str]:
    def read(value: Any) -> str:
        if value not in known:
            raise _Wrong(f"“{value}” is not one of {', '.join(word or 'none (empty)' for word in known)}.")
        return str(value)

    return read


def _phase(value: Any) -> Phase:
    return Phase(_one_of(tuple(Phase))(value))


def _crew(value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= LARGEST_CREW:
        raise _Wrong(f"{value!r} must be a whole number of people from 1 to {LARGEST_CREW}.")
    return value


def _conditions(value: Any) -> dict[str, Decimal]:
    if not isinstance(value, Mapping):
        raise _Wrong("Write condition names with their factors.")
    factors = {}
    for name, factor in value.items():
        if name not in CONDITIONS:
            raise _Wrong(f"“{name}” is not one of {', '.join(CONDITIONS)}.")
        try:
            factors[name] = _number(factor, Decimal(1), LARGEST_FACTOR, 3)
        except _Wrong as wrong:
            raise _Wrong(f"{name}: {wrong} A condition slows the work; 1.10 means 10 % more hours.") from None
    return factors


def _cautions(value: Any) -> tuple[str, ...]:
    if not isinstance(value, list | tuple):
        raise _Wrong("Write a list of caution codes.")
    return tuple(dict.fromkeys(map(_one_of(tuple(CAUTIONS)), value)))


_READERS: dict[str, Callable[[Any], Any]] = {
    "code": _code,
    "phase": _phase,
    "unit": _one_of(tuple(UNITS)),
    "crew_min": _crew,
    "crew_max": _crew,
    "conditions": _conditions,
    "cautions": _cautions,
    "licence": _one_of(LICENCES),
}


def _order_problems(read: Mapping[str, Any]) -> list[Problem]:
    """Pairs that must not fall: low ≤ rate ≤ high, smallest crew ≤ largest crew."""
    pairs = (
        ("rate_low", "rate", "The low rate {} is above the rate {}."),
        ("rate_high", "rate", "The high rate {} is below the rate {}."),
        ("crew_min", "crew_max", "The smallest crew {} is above the largest {}."),
    )
    found = []
    for field, other, words in pairs:
        if field in read and other in read:
            one, two = read[field], read[other]
            if one < two if field == "rate_high" else one > two:
                found.append(Problem(field, words.format(one, two)))
    return found
