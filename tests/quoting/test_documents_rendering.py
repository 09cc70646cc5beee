"""The PDF itself: archival and accessible at once, the same every time, closed to the outside."""

import json
import logging
from datetime import UTC, datetime
from io import BytesIO

import pikepdf
import pytest

from quoting.documents import rendering
from quoting.documents.checks import check_pdf_libraries
from quoting.documents.rendering import Attached, CannotRender, fingerprint, render_pdf

pytestmark = pytest.mark.slow

AT = datetime(2026, 11, 2, 9, 30, tzinfo=UTC)


def page(body: str, head: str = "<title>Paper</title>", lang: str = ' lang="en"') -> str:
    """A small page of HTML."""
    return f"<!doctype html><html{lang}><head><meta charset='utf-8'>{head}</head><body>{body}</body></html>"


def render(body: str, **changes: object) -> bytes:
    """A small page as PDF."""
    return render_pdf(page(body), **({"paper": "letter", "at": AT} | changes))


@pytest.fixture(scope="module")
def pdf():
    with pikepdf.open(BytesIO(render("<h1>Quote</h1><p>Two rooms</p>"))) as opened:
        yield opened


def test_the_file_is_tagged_and_says_its_language_and_colours(pdf):
    root = pdf.Root

    assert str(root.Lang) == "en"
    assert root.MarkInfo.Marked is True
    assert root.StructTreeRoot.K[0].S == "/Document"
    assert root.OutputIntents[0].S == "/GTS_PDFA1"
    assert root.ViewerPreferences.DisplayDocTitle is True


def test_one_rdf_block_holds_both_marks_and_describes_the_foreign_one(pdf):
    xmp = pdf.Root.Metadata.read_bytes()

    with pdf.open_metadata() as metadata:
        marks = {name: metadata.get(name) for name in ("pdfaid:part", "pdfaid:conformance", "pdfuaid:part")}

    assert marks == {"pdfaid:part": "3", "pdfaid:conformance": "A", "pdfuaid:part": "1"}
    assert xmp.count(b"<rdf:RDF") == xmp.count(b"</rdf:RDF>") == 1
    assert b"<pdfaSchema:prefix>pdfuaid<" in xmp


def test_the_dates_in_the_file_are_the_moment_that_was_passed(pdf):
    with pdf.open_metadata() as metadata:
        assert metadata["xmp:CreateDate"] == metadata["xmp:ModifyDate"] == "2026-11-02T09:30:00+00:00"

    assert str(pdf.docinfo["/CreationDate"]) == "D:20261102093000+00'00"


def test_without_a_moment_the_file_carries_no_date():
    with pikepdf.open(BytesIO(render("<h1>Draft</h1>", at=None))) as pdf:
        assert "/CreationDate" not in pdf.docinfo


@pytest.mark.parametrize(("paper", "size"), [("letter", (612, 792)), ("a4", (595, 842))])
def test_a_page_has_the_size_of_the_paper(paper, size):
    with pikepdf.open(BytesIO(render("<h1>Quote</h1>", paper=paper))) as pdf:
        box = [round(float(edge)) for edge in pdf.pages[0].MediaBox]

    assert box == [0, 0, *size]


def test_an_unknown_paper_is_refused():
    with pytest.raises(CannotRender, match="letter, a4"):
        render("<h1>Quote</h1>", paper="legal")


@pytest.mark.parametrize(
    "body",
    [
        '<img src="http://127.0.0.1:9/pixel.png" alt="x">',
        '<img src="file:///etc/hostname" alt="x">',
        '<link rel="stylesheet" href="https://example.com/a.css">',
        '<style>@font-face { font-family: x; src: url("file:///etc/hosts") }</style><p>x</p>',
        '<a rel="attachment" href="file:///etc/hostname">x</a>',
        '<p style="background: url(http://127.0.0.1:9/b.png)">x</p>',
        '<style>@color-profile --x { src: url("http://127.0.0.1:9/c.icc") }</style><p>x</p>',
    ],
)
def test_nothing_is_loaded_from_outside(body):
    with pytest.raises(CannotRender):
        render(body)


def test_the_fetcher_serves_the_bundled_fonts_only():
    from quoting.documents.fetcher import OnlyBundled

    fetcher = OnlyBundled()

    assert fetcher.fetch("bundled:Barlow-Regular").read()[:4] == b"\0\1\0\0"
    for address in ("file:///etc/hostname", "http://example.com/", "bundled:../settings.py", "data:,x"):
        with pytest.raises(ValueError, match="nothing from outside"):
            fetcher.fetch(address)


@pytest.mark.parametrize("character", ["🛁", "木", "Ж"])
def test_a_character_outside_the_bundled_fonts_is_refused(character):
    with pytest.raises(CannotRender):
        render(f"<p>Tub {character}</p>")


def test_what_the_library_warns_about_is_refused_with_its_words():
    with pytest.raises(CannotRender, match="sparkle"):
        render("<style>p { sparkle: yes }</style><p>x</p>")


def test_warnings_of_another_thread_do_not_spoil_a_paper(monkeypatch):
    monkeypatch.setattr(rendering._Warnings, "__init__", _listen_elsewhere)

    assert render("<style>p { sparkle: yes }</style><p>x</p>").startswith(b"%PDF-1.7")


def _listen_elsewhere(handler: logging.Handler) -> None:
    logging.Handler.__init__(handler, logging.WARNING)
    handler.thread_id, handler.said = -1, []


@pytest.mark.parametrize(
    "html", [page("<p>x</p>", head=""), page("<p>x</p>", lang="")], ids=["no title", "no language"]
)
def test_a_paper_without_title_or_language_is_refused(html):
    with pytest.raises(CannotRender):
        render_pdf(html, paper="letter")


def test_writing_each_object_once_changes_no_byte(monkeypatch):
    ours = render("<h1>Quote</h1><p>Two rooms</p>")
    monkeypatch.setattr("quoting.documents.finishing.write_objects_once", lambda document, pdf: None)

    assert render("<h1>Quote</h1><p>Two rooms</p>") == ours


def test_an_attachment_travels_inside_and_keeps_the_bytes_the_same():
    note = Attached("figures.json", b"{}", "Figures of the quote", AT)

    first, again = (render("<h1>Quote</h1>", attachments=[note]) for _ in range(2))

    assert first == again
    with pikepdf.open(BytesIO(first)) as pdf:
        assert pdf.attachments["figures.json"].get_file().read_bytes() == b"{}"
        assert pdf.Root.AF[0].AFRelationship == "/Data"


def test_missing_libraries_are_named_by_their_packages(monkeypatch):
    monkeypatch.setattr("quoting.documents.libraries.can_load", lambda library: library != "harfbuzz-subset")

    (warning,) = check_pdf_libraries()

    assert "libharfbuzz-subset0" in warning.msg
    assert "apt-get install libharfbuzz-subset0" in warning.hint


def test_a_machine_with_its_libraries_gets_no_warning():
    assert check_pdf_libraries() == []


def test_the_fingerprint_names_what_made_a_paper():
    prints = fingerprint()

    assert set(prints) == {"weasyprint", "pydyf", "pango", "harfbuzz", "templates", "style", "fonts"}
    assert prints["weasyprint"] == "70.0"
    assert all(len(prints[part]) == 64 for part in ("templates", "style", "fonts"))
    assert json.loads(json.dumps(prints)) == prints
