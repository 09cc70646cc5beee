"""The takeoff's document as lines of a plain table, for a terminal."""

from collections.abc import Iterator, Mapping
from typing import Any

type _Texts = Mapping[str, Any]

_WIDE = 48


def table_of(document: _Texts) -> Iterator[str]:
    """Quantities and layouts of each room, then tiles, materials by supplier and hours of the job."""
    for room in document["rooms"]:
        yield from _room(room)
    yield from _heading("Tiles to buy")
    for tile in document["tiles"]:
        yield _tile(tile)
    for supplier in dict.fromkeys(material["supplier"] for material in document["materials"]):
        yield from _heading(f"Materials, {supplier}" if supplier else "Materials")
        for material in document["materials"]:
            if material["supplier"] == supplier:
                packs = f"{material['packs']} × {material['pack']}"
                yield f"{_left(material['name'])} {material['quantity']:>10} {material['unit']:<7} {packs}"
    yield from _heading("Hours of setting tile: by area, the factor for its cuts, and with it")
    for hours in document["hours"]:
        by_area, factor = hours["by_area"] or "no rate", hours["cutting"] or "1"
        with_cuts = f"= {hours['hours']} h" if hours["hours"] else ""
        yield (
            f"{_left(hours['room'] + ', ' + hours['kind'])} {by_area:>10} h {hours['cuts']:>8} h of cuts "
            f"× {factor} {with_cuts}".rstrip()
        )
    if document["notes"]:
        yield from _heading("To look at")
        yield from document["notes"]
    yield ""
    yield from (f"{caution['title']}. {caution['text']}" for caution in document["cautions"])
    yield document["general_caution"]


def _room(room: _Texts) -> Iterator[str]:
    yield from _heading(room["name"])
    for quantity in room["quantities"]:
        if quantity["value"].strip("0."):
            unit = "" if quantity["unit"] == "each" else quantity["unit"]
            yield f"{_left(quantity['name'])} {quantity['value']:>10} {unit}".rstrip()
    for surface in room["surfaces"]:
        yield from _surface(surface)


def _surface(surface: _Texts) -> Iterator[str]:
    layout = surface["layout"]
    size = f"{surface['width']['text']} × {surface['height']['text']}"
    yield ""
    yield f"{surface['name']}: {size}, {surface['area_sq_ft']} sq ft; {layout['words']}"
    places = (("from_left", "from the left"), ("from_bottom", "up"))
    lines = [(layout["start_lines"][key], words) for key, words in places]
    if found := [f"{line['text']} {words}" for line, words in lines if line]:
        yield f"  start lines {', '.join(found)}"
    cuts = [f"{ends['left']['text']} and {ends['right']['text']}" for ends in layout["first_cuts"][:4]]
    if cuts:
        yield f"  first cuts left and right: {'; '.join(cuts)}"
    if len(layout["courses"]) > 1:
        heights = dict.fromkeys(course["height"]["text"] for course in layout["courses"])
        yield f"  {len(layout['courses'])} courses, {', '.join(heights)} high"
    pieces = ", ".join(f"{number} {shape}" for shape, number in layout["pieces"].items())
    yield f"  {pieces}; {layout['tiles_needed']} tiles, waste {layout['waste_percent']} %"
    yield from (f"  wish dropped: {wish}" for wish in layout["dropped_wishes"])
    yield from (f"  {other['name'].lower()}: {other['words']}" for other in layout["alternatives"])
    yield from (
        f"  rule broken ({one['rule']}): {one['words']}" for one in surface["advice"] if one["broken"]
    )


def _tile(tile: _Texts) -> str:
    boxes = f" in {tile['boxes']} boxes of {tile['tiles_in_box']}" if tile["boxes"] else ""
    needed = f"{tile['tiles_needed']} needed, waste {tile['waste_percent']} %"
    return f"{_left(tile['name'])} {tile['tiles_to_buy']:>10} tiles{boxes}; {needed}"


def _heading(words: str) -> Iterator[str]:
    yield ""
    yield words
    yield "-" * len(words)


def _left(words: str) -> str:
    return f"{words:<{_WIDE}}"
