"""Rooms documents as flat form fields and back: a field's name is its path, "rooms[0].openings[1].width".

Problems found by the reader carry the same paths, so each lands beside its own field.
"""

import re
from collections.abc import Iterable, Mapping
from typing import Any

from quoting.engine.measure.room_format import Field, Kind

_TOKEN = re.compile(r"\.?([a-z_]+)|\[(\d{1,3})\]")
_MOST_NAME = 120

type Path = tuple[str | int, ...]


def path_of(name: str) -> Path:
    """The path that a field's name stands for; empty when it is none."""
    if len(name) > _MOST_NAME or _TOKEN.sub("", name):
        return ()
    return tuple(word or int(number) for word, number in _TOKEN.findall(name))


def name_of(path: Path) -> str:
    """The name of the field at a path."""
    text = "".join(f"[{part}]" if isinstance(part, int) else f".{part}" for part in path)
    return text.removeprefix(".")


def flatten(value: Any, path: Path = ()) -> dict[str, Any]:
    """Every leaf of a document by its name; a list of plain texts is one leaf, unless it stands in a list."""
    if isinstance(value, dict):
        return {k: v for key, inner in value.items() for k, v in flatten(inner, (*path, key)).items()}
    in_list = bool(path) and isinstance(path[-1], int)
    if isinstance(value, list) and (in_list or not all(isinstance(item, str) for item in value)):
        return {k: v for i, inner in enumerate(value) for k, v in flatten(inner, (*path, i)).items()}
    return {name_of(path): value}


def nest(leaves: Iterable[tuple[Path, Any]]) -> dict[str, Any]:
    """A document from its leaves; rows of a list are closed up in their order."""
    tree: dict[Any, Any] = {}
    for path, value in leaves:
        spot = tree
        for part in path[:-1]:
            spot = spot.setdefault(part, {})
            if not isinstance(spot, dict):
                break
        else:
            spot[path[-1]] = value
    return _close_up(tree)  # type: ignore[no-any-return]


def _close_up(node: Any) -> Any:
    if not isinstance(node, dict):
        return node
    if node and all(isinstance(key, int) for key in node):
        return [_close_up(node[key]) for key in sorted(node)]
    return {key: _close_up(value) for key, value in node.items()}


def spec_at(spec: Field, path: Path) -> Field | None:
    """The format's entry for a path; None where the format has none."""
    for part in path:
        if isinstance(part, int):
            found = spec.options[0] if spec.kind is Kind.LIST and spec.options else None
        elif spec.kind is Kind.EITHER:
            objects = (option for option in spec.options if option.kind is Kind.OBJECT)
            found = next((o.fields[part] for o in objects if part in o.fields), None)
        else:
            found = spec.fields.get(part)
        if found is None:
            return None
        spec = found
    return spec


def clashes_in(posted: Mapping[str, list[str]]) -> list[str]:
    """Fields of rooms filled in both as a whole and in their parts, like a ceiling's height and slope."""
    rooms = ((name, values) for name, values in posted.items() if name.startswith("rooms["))
    filled = {name for name, values in rooms if any(text.strip() for text in values)}
    wholes = {name[: -len(part)].rstrip(".") for name in filled for part in [name.rpartition(".")[2]]}
    return sorted(filled & wholes)


def document_from(posted: Mapping[str, list[str]], spec: Field) -> dict[str, Any]:
    """A document from posted fields; blank fields are left out, and with them blank rows."""
    leaves = []
    for name, values in posted.items():
        path = path_of(name)
        entry = spec_at(spec, path) if path else None
        texts = [text.strip() for text in values if text.strip()]
        if entry is not None and texts:
            leaves.append((path, _read(entry, texts)))
    return nest(leaves)


def _read(entry: Field, texts: list[str]) -> Any:
    """What the reader expects of a field of this kind; what does not fit stays text for it to refuse."""
    if entry.kind is Kind.WHOLE:
        return int(texts[0]) if re.fullmatch(r"-?\d{1,9}", texts[0]) else texts[0]
    if entry.kind is Kind.FLAG:
        return texts[-1] == "true"
    if entry.kind is Kind.LIST:
        return [word for text in texts for word in re.split(r"[,\s]+", text) if word]
    return texts[0]
