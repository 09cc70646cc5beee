"""The pages of docs/ say what is so: linked, with the worked room and the figures that the project gives."""

import json
import re
from xml.etree import ElementTree

import pytest

from quoting.engine.measure.rooms_file import read_rooms
from quoting.engine.takeoff import take_off
from quoting.engine.taking_off.document import document_of
from quoting.engine.taking_off.table import table_of
from tests.rules.tree import ROOT, project_files
from tests.takeoff_makers import starting_books

FILES = [file.as_posix() for file in project_files("docs")]
SHORT = re.compile(r"falls short in (\d+) where tiles start by the trade, in (\d+) where")
SVG = "{http://www.w3.org/2000/svg}"


def read(name: str) -> str:
    """The text of a page."""
    return (ROOT / name).read_text(encoding="utf-8")


def chart() -> ElementTree.Element:
    """The chart of a flat share of waste, parsed."""
    return ElementTree.fromstring(read("docs/flat-share.svg"))


@pytest.mark.parametrize("file", FILES)
def test_every_page_of_the_docs_is_linked(file: str) -> None:
    name = file.rpartition("/")[2]
    pages = read("README.md") + read("DEVELOPERS.md")

    assert f"({file})" in pages or f"({name})" in read("docs/takeoff.md")


def test_the_worked_room_is_what_the_takeoff_says() -> None:
    page = read("docs/takeoff.md")
    (example,) = re.findall(r"```json\n(.*?)```", page, re.DOTALL)
    rooms = read_rooms(json.loads(example))

    taken = take_off(rooms, starting_books())

    said = "18 whole, 22 straight; 40 tiles, waste 2.4 %"
    assert said in page
    assert said in "\n".join(table_of(document_of(taken)))
    assert f"= {taken.hours[0].cuts.hours} h" in page


def test_the_chart_is_read_aloud() -> None:
    title, description = (chart().findtext(f"{SVG}{tag}") or "" for tag in ("title", "desc"))

    assert title
    assert SHORT.search(description)


@pytest.mark.parametrize("page", ["README.md", "docs/takeoff.md"])
def test_pages_say_how_often_a_flat_share_falls_short_as_the_chart_does(page: str) -> None:
    found = SHORT.search(chart().findtext(f"{SVG}desc") or "")
    assert found
    shares = [f"{int(number) / 2:g} %" for number in found.groups()]

    assert all(share in read(page) for share in shares), shares
