"""Controls of the setting-out page: surfaces and depths as text come in; fields go out."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from labour.engine.refusal import Problem
from quoting.engine.measure.lengths import System
from quoting.engine.measure.room_format import DEPTH, SURFACE_CHOICE
from quoting.engine.taking_off.choosing import as_typed
from quoting.measure.form_fields import Choices, FormField
from quoting.offer.setting_out import WISHES

_PATTERNS: Choices = (
    ("stacked", "Stacked"),
    ("offset", "Offset, like bricks"),
    ("diagonal", "Diagonal"),
    ("sheet", "Sheets of mosaic"),
    ("basket", "Basket weave"),
    ("plank", "Planks"),
    ("two-size", "Two sizes"),
)
_TURNED: Choices = (("false", "Lies level"), ("true", "Stands upright"))
_LABELS = {
    "pattern": "Pattern",
    "tile_width": "Tile width",
    "tile_height": "Tile height",
    "small_tile": "Small tile",
    "joint": "Joint",
    "offset_percent": "Offset, percent",
    "turned": "Long side",
    "wish": "Start chosen by",
    "start_x": "Start from the left",
    "start_y": "Start from the bottom",
}
_CHOICES: Mapping[str, Choices] = {"pattern": _PATTERNS, "turned": _TURNED, "wish": WISHES}
_SIZES = {
    "tile_width": "tile_width_in",
    "tile_height": "tile_height_in",
    "small_tile": "small_tile_in",
    "joint": "joint_in",
}
_OF_DEPTHS = {"x": "From the left", "y": "From the bottom", "depth": "Depth"}
SPARE_ROWS = 3


def choice_fields(
    surface: Mapping[str, Any], units: str, typed: Mapping[str, Any] | None, errors: Mapping[str, str]
) -> tuple[FormField, ...]:
    """What can be chosen of a surface, empty where it is usual. typed: as posted, when that was refused."""
    kept = typed if typed is not None else surface["choice"] or {}
    usual = _usual(surface["layout"], units)
    return tuple(
        _field(
            f"{surface['anchor']}.{name}", name, _LABELS[name], _text(kept.get(name)), errors.get(name, ""),
            _CHOICES.get(name, ()), usual.get(name, ""),
        )
        for name in SURFACE_CHOICE.fields if name in _LABELS
    )  # fmt: skip


def depth_rows(
    room: int,
    points: Sequence[Mapping[str, str]],
    units: str,
    errors: Mapping[str, str],
    spare: int = SPARE_ROWS,
) -> list[tuple[FormField, ...]]:
    """A row for each point, and some blank ones. room: its number on the page."""
    examples = ("450 mm", "600 mm", "10 mm") if units == "metric" else ("1' 6\"", "2'", '3/8"')
    rows = [*points, *({} for _ in range(spare))]
    return [
        tuple(
            _field(
                f"depths-{room}-{place}.{name}", name, _OF_DEPTHS[name], point.get(name, ""),
                errors.get(f"depths[{place}].{name}", "") or _of_row(errors, place, name), (), example,
            )
            for name, example in zip(DEPTH.fields, examples, strict=True)
        )
        for place, point in enumerate(rows)
    ]  # fmt: skip


def errors_of(problems: Iterable[Problem]) -> dict[str, str]:
    """Messages by field."""
    found: dict[str, str] = {}
    for problem in problems:
        found[problem.field] = f"{found.get(problem.field, '')} {problem.message}".strip()
    return found


def _of_row(errors: Mapping[str, str], place: int, name: str) -> str:
    """What is wrong with a point as a whole is said at its depth."""
    return errors.get(f"depths[{place}]", "") if name == "depth" else ""


def _usual(layout: Mapping[str, Any], units: str) -> dict[str, str]:
    """What a field that is left empty stands for: how the surface is laid now."""
    system: System = "metric" if units == "metric" else "us"
    found = {name: as_typed(float(layout[key]), system) for name, key in _SIZES.items() if layout[key] != "0"}
    return {**found, "offset_percent": layout["offset_percent"] or "", **layout["locked_by"]}


def _field(
    name: str, short: str, label: str, value: str, error: str, choices: Choices, placeholder: str
) -> FormField:
    kind = "choice" if choices else "text"
    return FormField(name, label, kind, value, choices, error, placeholder, "As usual", short)


def _text(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return "" if value is None else str(value)
