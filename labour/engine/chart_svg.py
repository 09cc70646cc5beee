"""A figure drawn by matplotlib as SVG text for a page and a PDF.

A canvas and the words on it come in; `<svg role="img">` with title and description goes out: ink in the
colour of the text around it, no style that a page's policy refuses, no id that two charts of a page share.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from hashlib import sha256
from io import StringIO
from typing import Any
from xml.etree.ElementTree import Element, SubElement, fromstring, tostring

WIDTH = 440
"""Units across; a page shows them a little larger, a phone a little smaller."""
EDGE = 8
FONT = 14
INK, BLUE, AMBER = "#010203", "#2f80c2", "#b3761b"
"""Ink stands for the colour of the text around the chart; the others hold on white and on dark paper."""

_SHOWN = 520
_SVG = "{http://www.w3.org/2000/svg}"
_HREF = "{http://www.w3.org/1999/xlink}href"
_LINK = re.compile(r"url\(#([^)]+)\)|^#(?=[A-Za-z])(.+)$")
_COLOUR = re.compile(r"#[0-9a-f]{6}")
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_LEFT_OUT = {"font-family", "font"}


@dataclass(slots=True)
class Canvas:
    """One pair of axes over the whole figure: x by value, y in units from the top.

    Words are drawn as place marks and put in at the end, so that no letter of them is read as a formula.
    """

    height: float
    across: tuple[float, float]
    axes: Any = field(init=False)
    figure: Any = field(init=False)
    words: list[str] = field(init=False, default_factory=list)

    def __post_init__(self) -> None:
        """Make the figure."""
        self.figure = _figure_class()(figsize=(WIDTH / 72, self.height / 72), dpi=72)
        self.figure.patch.set_visible(False)
        self.axes = self.figure.add_axes((EDGE / WIDTH, 0, 1 - 2 * EDGE / WIDTH, 1))
        self.axes.set_axis_off()
        self.axes.set_xlim(*self.across)
        self.axes.set_ylim(self.height, 0)

    def write(self, x: float, y: float, text: str, side: str = "left", *, size: float = FONT) -> None:
        """Put words with their baseline at y. side: which end of them is at x (left, center, right)."""
        mark = f"w{len(self.words)}"
        self.words.append(_NOT_XML.sub("", text))
        self.axes.text(x, y, mark, ha=side, va="baseline", fontsize=size, clip_on=False)

    def line(self, xs: tuple[float, float], ys: tuple[float, float], **look: Any) -> None:
        """A straight line; ink unless a colour is named."""
        self.axes.plot(xs, ys, **{"color": INK, "linewidth": 1.0, "clip_on": False} | look)

    def box(self, x: float, y: float, wide: float, high: float, **look: Any) -> None:
        """A box from x and y, to the right and down."""
        self.axes.barh(y, wide, high, x, align="edge", **{"clip_on": False, "linewidth": 1.0} | look)

    def mark(self, x: float, y: float, shape: str, **look: Any) -> None:
        """A single mark: "D" a diamond, "X" a cross, "o" a dot."""
        usual = {"color": INK, "markersize": 8, "linestyle": "none", "clip_on": False}
        self.axes.plot([x], [y], marker=shape, **usual | look)

    def units(self, count: float) -> float:
        """So many units of the picture as a way along x."""
        low, high = self.across
        return count * (high - low) / (WIDTH - 2 * EDGE)


def draw(canvas: Canvas, title: str, description: str) -> str:
    """The canvas as SVG text, the same for the same words and values. title, description: read aloud."""
    text = StringIO()
    nothing = dict.fromkeys(("Date", "Creator", "Format", "Type"))
    canvas.figure.savefig(text, format="svg", metadata=nothing)
    drawn = fromstring(text.getvalue())  # noqa: S314  (written by matplotlib a line above)
    words = (_NOT_XML.sub("", title), _NOT_XML.sub("", description))
    whole = repr((words, canvas.words)) + text.getvalue()
    return _fit(drawn, canvas, words, f"chart-{sha256(whole.encode()).hexdigest()[:12]}")


@cache
def _figure_class() -> Any:
    """Matplotlib's figure, loaded when the first chart is drawn; its settings are set once."""
    import matplotlib
    from matplotlib.figure import Figure

    matplotlib.rcParams |= {"svg.fonttype": "none", "svg.hashsalt": "screedbook", "hatch.linewidth": 1.2}
    return Figure


def _fit(drawn: Element, canvas: Canvas, words: tuple[str, str], name: str) -> str:
    size = {"viewBox": f"0 0 {WIDTH} {canvas.height:g}", "width": f"{_SHOWN}"}
    size["height"] = f"{canvas.height * _SHOWN / WIDTH:.0f}"
    spoken = {"role": "img", "aria-labelledby": f"{name}-title {name}-desc"}
    look = {"class": "chart", "font-family": "Barlow, 'Segoe UI', sans-serif", "stroke-linejoin": "round"}
    root = Element("svg", {"xmlns": "http://www.w3.org/2000/svg"} | look | size | spoken)
    for tag, text in zip(("title", "desc"), words, strict=True):
        SubElement(root, tag, {"id": f"{name}-{tag}"}).text = text
    used = {_linked(value) for node in drawn.iter() for value in _values(node)} - {None}
    for child in drawn:
        _copy(child, root, canvas.words, (name, used))
    return tostring(root, encoding="unicode")


def _copy(node: Element, parent: Element, words: list[str], ids: tuple[str, set[str | None]]) -> None:
    """Put the node under the parent: styles as attributes, words for marks, ids of this chart alone."""
    tag = node.tag.removeprefix(_SVG)
    if tag in ("style", "metadata"):
        return
    target = parent
    looks = dict(_attributes(node, ids))
    if tag != "g" or looks:
        target = SubElement(parent, tag, looks)
    if tag == "text":
        target.text = words[int((node.text or "w0")[1:])]
        target.attrib.setdefault("fill", "currentColor")
    for child in node:
        _copy(child, target, words, ids)
    if tag == "defs" and not len(target):
        parent.remove(target)


def _attributes(node: Element, ids: tuple[str, set[str | None]]) -> Iterator[tuple[str, str]]:
    name, used = ids
    for key, value in node.attrib.items():
        if key == "style":
            yield from ((part, _renamed(worth, name)) for part, worth in _styles(value))
        elif key == "id":
            if value in used:
                yield "id", f"{name}-{value}"
        elif not value.startswith("rotate(-0 "):
            yield ("href" if key == _HREF else key), _renamed(" ".join(value.split()), name)


def _values(node: Element) -> Iterator[str]:
    for key, value in node.attrib.items():
        yield from (worth for _, worth in _styles(value)) if key == "style" else (value,)


def _styles(text: str) -> Iterator[tuple[str, str]]:
    for part in text.split(";"):
        key, _, value = part.partition(":")
        if value and key.strip() not in _LEFT_OUT:
            yield key.strip(), value.strip()


def _linked(value: str) -> str | None:
    """The id that an attribute points to, if it points to one; a colour is none."""
    found = None if _COLOUR.fullmatch(value) else _LINK.search(value)
    return (found[1] or found[2]) if found else None


def _renamed(value: str, name: str) -> str:
    if value == INK:
        return "currentColor"
    linked = _linked(value)
    return value.replace(f"#{linked}", f"#{name}-{linked}") if linked else value
