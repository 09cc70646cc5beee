"""Charts: readable without colour and aloud, the same every time, and no text can break out of them."""

import re
import sys
from decimal import Decimal
from xml.etree.ElementTree import Element, fromstring

import pytest

from labour.engine.charts import Bar, HeldRow, MonthRow, RangeRow, bars, held, months, ranges

_TOLD = {"title": "Hours by task", "description": "Floor tile took 12.40 h more than planned."}
_SVG = "{http://www.w3.org/2000/svg}"
_BAR = Bar("Floor tile", Decimal("12.40"), "+12.40 h")
_RANGE = RangeRow("26-014", 80, 100, 130, 118, 90, 111, "118 h")
_HELD = HeldRow("8 in 10", 0.8, 0.5, 0.2, 0.8, "5 of 10")


def bar_chart(*rows: Bar, title: str = "Hours by task") -> str:
    """A chart of the rows."""
    return bars(rows, title=title, description=_TOLD["description"], unit="h")


def all_charts() -> list[str]:
    """One of each kind."""
    return [
        bar_chart(_BAR),
        ranges([_RANGE], **_TOLD, unit="h"),
        months([MonthRow("Nov 26", 8, 9)], **_TOLD, unit="h"),
        held([_HELD], **_TOLD),
    ]


def texts_of(svg: str) -> list[str]:
    """Every word drawn."""
    return [node.text or "" for node in fromstring(svg).iter(f"{_SVG}text")]


def drawn_with(svg: str, colour: str) -> list[Element]:
    """Everything filled or lined in the colour."""
    return [node for node in fromstring(svg).iter() if colour in (node.get("fill"), node.get("stroke"))]


def test_a_chart_is_read_aloud_by_its_title_and_description():
    for svg in all_charts():
        root = fromstring(svg)
        spoken = [root.find(f"{_SVG}{tag}") for tag in ("title", "desc")]

        assert root.get("role") == "img"
        assert [node.text for node in spoken] == list(_TOLD.values())
        assert root.get("aria-labelledby") == " ".join(node.get("id") for node in spoken)


def test_the_same_rows_give_the_same_text_and_other_rows_another():
    again = [_BAR, Bar("Grout", -3, "−3.00 h")]

    assert bar_chart(*again) == bar_chart(*again)
    assert all_charts() == all_charts()
    assert bar_chart(*again) != bar_chart(_BAR)


def test_charts_on_one_page_share_no_id_and_every_reference_is_met():
    pages = [*all_charts(), bar_chart(_BAR, title="Hours by phase"), bar_chart(Bar("Grout", -3, "−3 h"))]
    ids = [found for svg in pages for found in re.findall(r' id="([^"]+)"', svg)]
    pointed = {found for svg in pages for found in re.findall(r'url\(#([^)]+)\)| href="#([^"]+)"', svg)}

    assert len(ids) == len(set(ids))
    assert {one or other for one, other in pointed} <= set(ids)


def test_names_stay_text():
    row = Bar('<script>alert("1")</script> & $5_x$ \x00\ud800tile', 1, "<b>1</b>")

    svg = bar_chart(row, title="Over < under & more")

    assert '<script>alert("1")</script> & $5_x$ tile' in "".join(texts_of(svg))
    assert "<script" not in svg and "<b>" not in svg
    assert fromstring(svg).findtext(f"{_SVG}title") == "Over < under & more"


def test_words_that_the_fonts_of_the_drawing_lack_are_kept():
    assert "浴室 🛁 Łazienka" in texts_of(bar_chart(Bar("浴室 🛁 Łazienka", 1, "1 h")))


def test_no_rows_give_nothing():
    assert bar_chart() == ""
    assert ranges([], **_TOLD, unit="h") == ""
    assert months([], **_TOLD, unit="h") == ""
    assert held([], **_TOLD) == ""


def test_a_long_label_is_cut_and_its_value_is_not():
    texts = texts_of(bar_chart(Bar("tile " * 40, 1, "+1.00 h")))

    assert max(map(len, texts)) <= 52
    assert texts[0].endswith("…") and "+1.00 h" in texts


@pytest.mark.parametrize("value", [0, 1e-300, 1e300, -1e300, sys.float_info.max, float("nan"), float("inf")])
def test_extreme_values_are_drawn_inside_the_picture(value):
    charts = [
        bar_chart(Bar("a", value, "words"), _BAR),
        bar_chart(Bar("alone", value, "words")),
        ranges([RangeRow("a", value, value, value, value)], **_TOLD, unit="h"),
        months([MonthRow("a", value, value)], **_TOLD, unit="h"),
        held([HeldRow("a", value and 1, 0, 0, 1, "words")], **_TOLD),
    ]

    for svg in charts:
        numbers = [
            float(x) for path in re.findall(r' d="([^"]*)"', svg) for x in re.findall(r"-?[\d.]+", path)
        ]
        assert "nan" not in svg.lower().replace("words", "") and "inf" not in svg.lower()
        assert max(map(abs, numbers), default=0) < 1000


def test_above_and_below_differ_without_colour():
    above, below = bar_chart(_BAR), bar_chart(Bar("Grout", -3, "−3 h"))

    assert "<pattern" in below
    assert "<pattern" not in above


def test_an_actual_outside_its_range_has_another_mark_than_one_inside():
    inside = ranges([_RANGE], **_TOLD, unit="h")
    outside = ranges([RangeRow("26-014", 80, 100, 130, 131)], **_TOLD, unit="h")

    shapes = [set(re.findall(r'<path id="[^"]+" d="([^"]+)"', svg)) for svg in (inside, outside)]

    assert len(shapes[0]) == len(shapes[1]) == 2
    assert inside.count("<use") == outside.count("<use") == 3


def test_ink_follows_the_text_around_and_nothing_needs_a_style():
    for svg in all_charts():
        assert drawn_with(svg, "currentColor")
        assert not drawn_with(svg, "#010203") and not drawn_with(svg, "#000000")
        assert "style" not in svg and "<!--" not in svg and "<?xml" not in svg
