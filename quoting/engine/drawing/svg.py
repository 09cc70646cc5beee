"""A sheet of lines and words: marks in sheet units come in, `<svg role="img">` as text goes out.

Ink is the colour of the text around the drawing, so that it holds on white, on dark and in black and white.
There is no style that a page's policy refuses; ids start with the sheet's own name; words are text.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from xml.etree.ElementTree import Element, SubElement, tostring

from quoting.engine.layout.values import Spot

FONT = 12.0
SMALL = 10.0
_LETTER = 0.6
_SHOWN = 1.2
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_HATCHES = {"cut": (6, 45, 0.7), "wet": (11, -45, 0.5)}
"""By name: way between the lines, their turn in degrees, their width."""


@dataclass(slots=True)
class Sheet:
    """Marks are drawn in the order in which they are put down. x runs right, y down."""

    ids: str
    width: float
    height: float
    marks: Element = field(init=False)
    hatches: set[str] = field(init=False, default_factory=set)

    def __post_init__(self) -> None:
        """Start with nothing."""
        self.marks = Element("g", {"fill": "none", "stroke": "currentColor", "stroke-linejoin": "round"})

    def line(self, points: Sequence[Spot], width: float = 1, **look: str) -> None:
        """Straight from point to point."""
        where = " ".join(f"{_n(x)},{_n(y)}" for x, y in points)
        self._put("polyline", {"points": where, "stroke-width": f"{width:g}"}, look)

    def shapes(self, shapes: Iterable[Iterable[Sequence[Spot]]], width: float = 1, **look: str) -> None:
        """Closed shapes as one mark: each its outline, then its holes."""
        parts = [
            "M" + " ".join(f"{_n(x)},{_n(y)}" for x, y in ring) + "Z" for rings in shapes for ring in rings
        ]
        if parts:
            self._put(
                "path", {"d": "".join(parts), "fill-rule": "evenodd", "stroke-width": f"{width:g}"}, look
            )

    def words(
        self,
        at: Spot,
        text: str,
        side: str = "middle",
        *,
        turn: float = 0,
        size: float = FONT,
        bold: bool = False,
    ) -> None:
        """Words whose middle height is at a point. side: start, middle or end is there. turn: degrees."""
        x, y = at
        where = {"x": _n(x), "y": _n(y + size * 0.35), "text-anchor": side, "font-size": f"{size:g}"}
        if turn:
            where["transform"] = f"rotate({turn:g} {_n(x)} {_n(y)})"
        if bold:
            where["font-weight"] = "bold"
        mark = SubElement(self.marks, "text", {"fill": "currentColor", "stroke": "none"} | where)
        mark.text = _NOT_XML.sub("", text)

    def hatch(self, name: str) -> str:
        """A fill with slanted lines: "cut" is dense, "wet" wide and leaning the other way."""
        self.hatches.add(name)
        return f"url(#{self.ids}-{name})"

    def svg(self, title: str, description: str) -> str:
        """The whole sheet. title, description: what a screen reader says."""
        size = {"viewBox": f"0 0 {_n(self.width)} {_n(self.height)}"}
        size |= {"width": f"{self.width * _SHOWN:.0f}", "height": f"{self.height * _SHOWN:.0f}"}
        spoken = {"role": "img", "aria-labelledby": f"{self.ids}-title {self.ids}-desc"}
        look = {"class": "drawing", "font-family": "Barlow, 'Segoe UI', sans-serif"}
        root = Element("svg", {"xmlns": "http://www.w3.org/2000/svg"} | look | size | spoken)
        for tag, text in (("title", title), ("desc", description)):
            SubElement(root, tag, {"id": f"{self.ids}-{tag}"}).text = _NOT_XML.sub("", text)
        if self.hatches:
            defs = SubElement(root, "defs")
            for name in sorted(self.hatches):
                self._pattern(defs, name)
        root.append(self.marks)
        return tostring(root, encoding="unicode")

    def _pattern(self, defs: Element, name: str) -> None:
        way, turn, width = _HATCHES[name]
        where = {"id": f"{self.ids}-{name}", "patternUnits": "userSpaceOnUse"}
        size = {"width": f"{way}", "height": f"{way}", "patternTransform": f"rotate({turn})"}
        pattern = SubElement(defs, "pattern", where | size)
        line = {"x1": f"{way / 2}", "y1": "0", "x2": f"{way / 2}", "y2": f"{way}"}
        SubElement(pattern, "line", line | {"stroke": "currentColor", "stroke-width": f"{width}"})

    def _put(self, tag: str, where: dict[str, str], look: dict[str, str]) -> None:
        SubElement(self.marks, tag, where | {key.replace("_", "-"): value for key, value in look.items()})


def wide(text: str, size: float = FONT) -> float:
    """About how wide words are."""
    return len(text) * size * _LETTER


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
