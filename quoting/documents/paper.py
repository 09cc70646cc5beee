"""A document from its template: values that are decided come in, the PDF's bytes go out."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from django.template.loader import render_to_string
from django.utils.safestring import SafeString

from quoting.documents.fonts import printable
from quoting.documents.rendering import Attached, render_pdf


def make_printable(value: Any) -> Any:
    """The same value with every text in it passed through `printable`; markup of ours stays as it is."""
    if isinstance(value, SafeString):
        return value
    if isinstance(value, str):
        return printable(value)
    if isinstance(value, Mapping):
        return {key: make_printable(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [make_printable(item) for item in value]
    return value


def render_html(template: str, context: Mapping[str, Any]) -> str:
    """The paper as HTML; what people typed shows as text, never as markup."""
    return render_to_string(template, make_printable(context))


def render_paper(
    template: str,
    context: Mapping[str, Any],
    *,
    paper: str,
    attachments: Sequence[Attached] = (),
    pictures: Mapping[str, bytes] | None = None,
) -> bytes:
    """The paper as PDF. paper: "letter" or "a4". context["at"], if given, becomes the date in the file.

    pictures: JPEGs by name, which the template shows by `<img src="picture:<name>" alt="…">`.
    The same template, context and paper give the same bytes. Raise CannotRender rather than leave a gap.
    """
    moment: datetime | None = context.get("at")
    html = render_html(template, context)
    return render_pdf(html, paper=paper, at=moment, attachments=attachments, pictures=pictures)
