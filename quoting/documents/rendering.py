"""Turns the HTML of a paper into an archival, accessible PDF (PDF/A-3a and PDF/UA-1 at once).

Comes in: HTML made by our own templates, with `<html lang>` and `<title>`. Goes out: bytes, the same for
the same input on the same libraries. Nothing is loaded from outside; anything that the PDF library warns
about is a refusal, so that no paper has a silent gap. The library is loaded with the first paper.
"""

import atexit
import hashlib
import logging
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from functools import cache
from importlib.metadata import version
from importlib.resources import files
from io import BytesIO
from pathlib import Path
from threading import get_ident
from typing import Any, NamedTuple

from django.conf import settings

from labour.engine.refusal import Problem, Refusal
from quoting.documents.fonts import read_fonts
from quoting.documents.libraries import list_missing_packages, name_harfbuzz_version

PAPERS = {"letter": "letter", "a4": "A4"}
STYLE_SHEET = Path(__file__).parent / "paper.css"
# Names of their own, so that no font of the same name on the machine is taken instead.
_FAMILIES = ("Barlow Paper", "Zilla Slab Paper")
_JPEG = b"\xff\xd8\xff"


class CannotRender(Refusal):
    """The paper could not be made without gaps. The problems say what was wrong."""


class Attached(NamedTuple):
    """A file that travels inside the PDF. at: written as its date, so that the bytes stay the same."""

    name: str
    content: bytes
    description: str
    at: datetime


class _Warnings(logging.Handler):
    """Collects what the PDF library says in this thread."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.thread_id = get_ident()
        self.said: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        if record.thread == self.thread_id:
            self.said.append(record.getMessage())


@contextmanager
def _refusing_warnings() -> Iterator[None]:
    """Turn every warning of the PDF library into a refusal."""
    logger, warnings = logging.getLogger("weasyprint"), _Warnings()
    logger.addHandler(warnings)
    try:
        yield
    finally:
        logger.removeHandler(warnings)
    if warnings.said:
        raise CannotRender(*(Problem("paper", said) for said in warnings.said))


def style_text(paper: str) -> str:
    """The style sheet of papers, for one paper size."""
    if paper not in PAPERS:
        raise CannotRender(Problem("paper", f"must be one of {', '.join(PAPERS)}, not {paper!r}"))
    return f"@page {{ size: {PAPERS[paper]} }}\n{STYLE_SHEET.read_text()}"


@cache
def _press(paper: str) -> tuple[Any, Any, Any]:
    """Fetcher, parsed style sheet and fonts: the dear part, made once a process and paper size."""
    from weasyprint import CSS
    from weasyprint.text.fonts import FontConfiguration

    from quoting.documents.fetcher import OnlyBundled

    fetcher, fonts = OnlyBundled(), FontConfiguration()
    return fetcher, CSS(string=style_text(paper), font_config=fonts, url_fetcher=fetcher), fonts


# The fonts sit in a temporary folder that must go while the interpreter still runs.
atexit.register(_press.cache_clear)


def _load_library() -> None:
    """Import the PDF library, or say which packages it lacks."""
    try:
        import weasyprint  # noqa: F401
    except OSError as error:
        missing = " ".join(list_missing_packages()) or str(error)
        raise CannotRender(f"PDFs need system libraries that are missing: {missing}") from error


def render_pdf(
    html: str,
    *,
    paper: str,
    at: datetime | None = None,
    attachments: Sequence[Attached] = (),
    pictures: Mapping[str, bytes] | None = None,
) -> bytes:
    """The PDF of a page of HTML. paper: "letter" or "a4". at: the moment written into the file as its date.

    pictures: JPEGs by name, shown by `<img src="picture:<name>" alt="…">`. Raise CannotRender when anything
    is missing: a library, a resource, a character, the title or language.
    """
    _load_library()
    _refuse_other_pictures(pictures or {})
    with _refusing_warnings():
        return _render(html, paper, at, attachments, pictures)


def _refuse_other_pictures(pictures: Mapping[str, bytes]) -> None:
    """Only JPEGs: another kind could be a drawing that loads or holds what it likes."""
    for name, content in pictures.items():
        if not content.startswith(_JPEG):
            raise CannotRender(Problem("pictures", f"{name} must be a JPEG"))


def _render(
    html: str,
    paper: str,
    at: datetime | None,
    attachments: Sequence[Attached],
    pictures: Mapping[str, bytes] | None,
) -> bytes:
    from weasyprint import HTML
    from weasyprint.urls import FatalURLFetchingError, URLFetchingError

    from quoting.documents.fetcher import OnlyBundled
    from quoting.documents.finishing import write_objects_once
    from quoting.documents.metadata import mark_accessible

    bundled, css, fonts = _press(paper)
    fetcher = OnlyBundled(pictures) if pictures else bundled
    options = {"pdf_variant": "pdf/a-3a", "attachments": [_attach(file, fetcher) for file in attachments]}
    try:
        page = HTML(string=html, url_fetcher=fetcher)
        document = page.render(stylesheets=[css], font_config=fonts, **options)
        if not document.metadata.title:
            raise CannotRender(Problem("title", "every paper needs a <title>"))
        moment = at.astimezone(UTC).isoformat(timespec="seconds") if at else None
        document.metadata.created = document.metadata.modified = moment
        mark_accessible(document.metadata)
        document.color_profiles["srgb"] = _colour_profile()
        intent = {"output_intent": "of the document"}
        pdf: bytes = document.write_pdf(finisher=write_objects_once, **options, **intent)
    except (URLFetchingError, FatalURLFetchingError) as error:
        raise CannotRender(Problem("paper", str(error))) from error
    _refuse_foreign_fonts(document)
    return pdf


@cache
def _profile_bytes() -> bytes:
    return (files("weasyprint.pdf") / "sRGB2014.icc").read_bytes()


def _colour_profile() -> Any:
    """What the library would use by itself, but from memory: it leaves the file open on every paper."""
    from weasyprint.css import ColorProfile

    source, components = BytesIO(_profile_bytes()), (["r"], ["g"], ["b"])
    return ColorProfile(source, "sRGB2014.icc", "relative-colorimetric", components)


def _attach(file: Attached, fetcher: Any) -> Any:
    from weasyprint import Attachment

    moment = file.at.astimezone(UTC)
    return Attachment(
        file_obj=BytesIO(file.content), base_url=f"bundled:{file.name}", url_fetcher=fetcher, name=file.name,
        description=file.description, created=moment, modified=moment, relationship="Data",
    )  # fmt: skip


def _refuse_foreign_fonts(document: Any) -> None:
    """A character outside the bundled fonts would be an empty box, or set in whatever the machine has."""
    for font in document.fonts.values():
        if font.missing:
            characters = ", ".join(f"U+{code:04X}" for code in sorted(font.missing))
            raise CannotRender(Problem("text", f"no bundled font has {characters}"))
        if font.family not in _FAMILIES:
            raise CannotRender(Problem("text", f"a character would be set in {font.family}"))


@cache
def fingerprint() -> dict[str, str]:
    """What made a paper: versions of the libraries, hashes of templates, style sheet and fonts."""
    _load_library()
    from weasyprint.text.ffi import pango

    folder = Path(settings.BASE_DIR) / "templates" / "documents"
    templates = sorted(folder.rglob("*.html"))
    return {
        "weasyprint": version("weasyprint"),
        "pydyf": version("pydyf"),
        "pango": str(pango.pango_version()),
        "harfbuzz": name_harfbuzz_version(),
        "templates": _hash(*(file.read_bytes() for file in templates)),
        "style": _hash(STYLE_SHEET.read_bytes()),
        "fonts": _hash(*read_fonts().values()),
    }


def _hash(*contents: bytes) -> str:
    return hashlib.sha256(b"\0".join(contents)).hexdigest()
