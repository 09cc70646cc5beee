"""The quote as the client gets it: everything is on it, and nothing that is not theirs to see."""

import re
import shutil
import subprocess
from collections.abc import Iterator
from decimal import Decimal
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import Any

import pikepdf
import pytest

from quoting.documents.paper import render_html, render_paper
from tests.bench.sample_quote import sample_context

pytestmark = pytest.mark.slow

TEMPLATE = "documents/quote.html"
NASTY = "<script>alert(1)</script> {{ firm }} <img src=http://127.0.0.1:9/x> 🛁"

needs_poppler = pytest.mark.skipif(not shutil.which("pdftotext"), reason="poppler-utils is not installed")


def read_text(pdf: bytes, tmp_path: Path) -> str:
    """The words of a PDF as another program reads them."""
    file = tmp_path / "paper.pdf"
    file.write_bytes(pdf)
    command = ["pdftotext", "-layout", str(file), "-"]
    return subprocess.run(command, check=True, capture_output=True, text=True).stdout


def read_word_boxes(pdf: bytes, tmp_path: Path) -> list[tuple[float, float]]:
    """Left and right edge of every word, in points."""
    file = tmp_path / "paper.pdf"
    file.write_bytes(pdf)
    command = ["pdftotext", "-bbox", str(file), "-"]
    page = subprocess.run(command, check=True, capture_output=True, text=True).stdout
    return [(float(a), float(b)) for a, b in re.findall(r'xMin="([\d.]+)".*?xMax="([\d.]+)"', page)]


def list_tags(node: Any) -> Iterator[str]:
    """Structure tags below a node, in reading order."""
    if isinstance(node, pikepdf.Dictionary) and "/S" in node:
        yield str(node.S).lstrip("/")
    if isinstance(node, pikepdf.Dictionary) and "/K" in node:
        kids = node.K if isinstance(node.K, pikepdf.Array) else [node.K]
        for kid in kids:
            yield from list_tags(kid)


def list_amounts(value: Any) -> Iterator[str]:
    """Every amount of the context, as it should be shown."""
    if isinstance(value, dict):
        for key, item in value.items():
            if key in ("amount", "total", "subtotal", "price", "tax", "base", "discount"):
                yield (
                    f"{Decimal(item):,.2f}".replace("-", "−$") if item[0] == "-" else f"${Decimal(item):,.2f}"
                )
            yield from list_amounts(item)
    elif isinstance(value, list):
        for item in value:
            yield from list_amounts(item)


@pytest.fixture(scope="module")
def letter() -> bytes:
    return render_paper(TEMPLATE, sample_context(), paper="letter")


def test_the_same_quote_gives_the_same_bytes(letter):
    assert render_paper(TEMPLATE, sample_context(), paper="letter") == letter


def test_a_quote_of_40_lines_is_a_small_file(letter):
    assert len(letter) <= 80 * 1024


@needs_poppler
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_every_amount_and_the_number_of_every_page_is_on_the_paper(paper, tmp_path):
    context = sample_context()

    text = read_text(render_paper(TEMPLATE, context, paper=paper), tmp_path)

    pages = text.count("\f")
    assert {amount for amount in list_amounts(context["view"]) if amount not in text} == set()
    assert all(f"Page {number} of {pages}" in text for number in range(1, pages + 1))
    assert text.count("Quote Q-0042 · Noor and Felix Abernathy-Lindqvist") == pages - 1


@needs_poppler
def test_page_one_says_for_whom_what_how_much_until_when_and_what_next(letter, tmp_path):
    first_page = read_text(letter, tmp_path).split("\f", 1)[0]

    for words in (
        "Harbor Lane Baths", "registration 000000", "Noor and Felix Abernathy-Lindqvist", "208 Quarry Road",
        "Q-0042", "November 2, 2026", "December 2, 2026", "October 28, 2026", "waterproofing", "$23,259.31",
        "What happens next", "The first payment is $6,977.79",
    ):  # fmt: skip
        assert words in first_page


@pytest.mark.skipif(not shutil.which("qpdf"), reason="qpdf is not installed")
def test_another_program_finds_the_file_sound(letter, tmp_path):
    file = tmp_path / "paper.pdf"
    file.write_bytes(letter)

    check = subprocess.run(["qpdf", "--check", str(file)], check=False, capture_output=True, text=True)

    assert check.returncode == 0, check.stdout + check.stderr


def test_headings_start_at_one_and_skip_no_level(letter):
    with pikepdf.open(BytesIO(letter)) as pdf:
        tags = list(list_tags(pdf.Root.StructTreeRoot.K[0]))

    levels = [int(tag[1]) for tag in tags if len(tag) == 2 and tag[0] == "H" and tag[1].isdigit()]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    assert tags.count("TH") > 20


def test_every_figure_cell_of_a_table_names_its_headers(letter):
    with pikepdf.open(BytesIO(letter)) as pdf:
        cells = [
            item for item in pdf.objects
            if isinstance(item, pikepdf.Dictionary) and item.get("/S") == "/TD"
        ]  # fmt: skip
        bare = [cell for cell in cells if not len(cell.A.get("/Headers", []))]

        assert len(cells) > 150
        assert len(bare) == 1, "only the empty corner of the acceptance has no heading"


def test_all_fonts_are_ours_and_embedded(letter):
    with pikepdf.open(BytesIO(letter)) as pdf:
        fonts = [
            item for item in pdf.objects
            if isinstance(item, pikepdf.Dictionary) and item.get("/Type") == "/FontDescriptor"
        ]  # fmt: skip
        names = {str(font.FontName).split("+")[1] for font in fonts}

        assert all("/FontFile2" in font for font in fonts)
    assert names == {
        "Barlow-Paper", "Barlow-Paper-Medium", "Barlow-Paper-Semi-Bold", "Zilla-Slab-Paper-Semi-Bold"
    }  # fmt: skip


@needs_poppler
def test_what_people_typed_shows_as_text_never_as_markup(tmp_path):
    context = sample_context(12)
    context["client"]["name"] = context["quote"]["title"] = context["terms"] = NASTY
    context["view"]["phases"][0]["lines"][0]["description"] = NASTY

    text = read_text(render_paper(TEMPLATE, context, paper="a4"), tmp_path)

    assert text.count("<script>alert(1)</script>") >= 4
    assert "{{ firm }}" in text
    assert "🛁" not in text


@needs_poppler
def test_very_long_names_stay_inside_the_margins(tmp_path):
    context = sample_context(6)
    context["client"]["name"] = "Wolfeschlegelsteinhausenbergerdorff" * 3
    context["firm"]["name"] = "W" * 120
    context["view"]["rooms"] = [f"Room {number} with a long name" for number in range(12)]
    context["view"]["phases"][0]["lines"][0]["description"] = "membrane " * 60

    boxes = read_word_boxes(render_paper(TEMPLATE, context, paper="letter"), tmp_path)

    left, right = 19 / 25.4 * 72, 612 - 19 / 25.4 * 72
    assert min(start for start, _ in boxes) >= left - 0.5
    assert max(end for _, end in boxes) <= right + 0.5


def test_a_draft_says_so_on_every_page_and_cannot_be_signed(tmp_path):
    html = render_html(TEMPLATE, sample_context(draft=True))

    assert "DRAFT — not an offer" in html
    assert "Signature" not in html


@needs_poppler
def test_every_page_of_a_draft_carries_the_band(tmp_path):
    text = read_text(render_paper(TEMPLATE, sample_context(draft=True), paper="letter"), tmp_path)

    assert text.count("DRAFT — not an offer") == text.count("\f")


def test_lines_show_no_amounts_unless_the_firm_wants_them():
    context = sample_context()
    context["quote"]["show_line_amounts"] = False

    html = render_html(TEMPLATE, context)

    assert "$118.40" not in html
    assert "$428.80" in html


def test_a_quote_of_one_room_names_the_room_once():
    context = sample_context(10)
    context["view"]["rooms"] = ["Hall bathroom"]

    html = render_html(TEMPLATE, context)

    assert '<th scope="col">Room</th>' not in html


@pytest.mark.parametrize(
    ("part", "heading"),
    [
        ("options", "Options"), ("allowances", "Allowances in the price"), ("exclusions", "Not included"),
        ("unit_prices", "If something hidden turns up"), ("milestones", "Payments"),
    ],
)  # fmt: skip
def test_a_part_without_content_leaves_no_heading(part, heading):
    context = sample_context(4)
    with_part = render_html(TEMPLATE, context)
    context["view"][part] = []

    without = render_html(TEMPLATE, context)

    assert f"<h2>{heading}</h2>" in with_part
    assert f"<h2>{heading}</h2>" not in without


def test_a_client_never_sees_hours_costs_or_margins():
    html = render_html(TEMPLATE, sample_context()).lower()

    assert not any(word in html for word in ("margin", "overhead", "markup", "labour-hour", "burden"))
