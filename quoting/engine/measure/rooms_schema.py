"""The JSON Schema of the rooms file, made from the format's own fields."""

from collections.abc import Callable
from typing import Any

from quoting.engine.measure.room_format import FORMAT, ROOMS_FILE, Field, Kind

_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def rooms_schema() -> dict[str, Any]:
    """JSON Schema (2020-12) of shape and words; whether sizes fit each other is checked by reading."""
    return {"$schema": _DIALECT, "title": FORMAT, **_schema_of(ROOMS_FILE)}


def _schema_of(field: Field) -> dict[str, Any]:
    schema = _SHAPES[field.kind](field)
    if field.nullable:
        schema = {"anyOf": [schema, {"type": "null"}]}
    return schema | ({"description": field.meaning} if field.meaning else {})


def _length(field: Field) -> dict[str, Any]:
    bound = {"exclusiveMinimum": 0} if field.least else {"minimum": 0}
    return {
        "anyOf": [{"type": "string", "minLength": 1, "maxLength": field.most}, {"type": "number"} | bound]
    }


def _object(field: Field) -> dict[str, Any]:
    return {
        "type": "object",
        "properties": {name: _schema_of(inner) for name, inner in field.fields.items()},
        "required": [name for name, inner in field.fields.items() if inner.required],
        "additionalProperties": False,
    }


_SHAPES: dict[Kind, Callable[[Field], dict[str, Any]]] = {
    Kind.TEXT: lambda f: {"type": "string", "minLength": f.least, "maxLength": f.most},
    Kind.LENGTH: _length,
    Kind.CHOICE: lambda f: {"enum": [str(choice) for choice in f.choices]},
    Kind.WHOLE: lambda f: {"type": "integer", "minimum": f.least, "maximum": f.most},
    Kind.FLAG: lambda f: {"type": "boolean"},
    Kind.OBJECT: _object,
    Kind.LIST: lambda f: {
        "type": "array", "items": _schema_of(f.options[0]), "minItems": f.least, "maxItems": f.most
    },
    Kind.EITHER: lambda f: {"anyOf": [_schema_of(option) for option in f.options]},
}  # fmt: skip
