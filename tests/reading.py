"""Answers and papers read as a person reads them: text without marks, spaces closed up."""

import re
import subprocess
from html import unescape
from html.parser import HTMLParser
from typing import Any

_UNSEEN = re.compile(r"<(script|style|template)\b.*?</\1>", re.DOTALL)
_TAG = re.compile(r"<[^>]+>")


def close_up(text: str) -> str:
    """Runs of spaces and line ends as one space."""
    return " ".join(text.split())


def page_text(answer: Any) -> str:
    """The words of a page, in their order."""
    return close_up(unescape(_TAG.sub(" ", _UNSEEN.sub(" ", answer.content.decode()))))


def page_rows(answer: Any) -> list[str]:
    """The rows of the page's tables, each as its words with plain numbers."""
    rows = re.findall(r"<tr\b.*?</tr>", answer.content.decode(), re.DOTALL)
    return [plain_numbers(close_up(unescape(_TAG.sub(" ", row)))) for row in rows]


def plain_numbers(text: str) -> str:
    """The text with its numbers bare: no currency, no commas, no idle zeros; a true minus before them."""
    bare = re.sub(r"(?<=\d),(?=\d{3})", "", text.replace("$", "")).replace("−", "-")
    return re.sub(r"\d+\.\d+", lambda found: found[0].rstrip("0").rstrip("."), bare)


def pdf_text(pdf: bytes) -> str:
    """The words of a paper, line by line as they stand on it."""
    command = ["pdftotext", "-layout", "-", "-"]
    answer = subprocess.run(command, input=pdf, capture_output=True, check=True)
    return close_up(answer.stdout.decode())


class _Controls(HTMLParser):
    """Collects the controls of a page that a browser would send."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, str]] = []
        self.select: tuple[str, list[tuple[str, bool]]] | None = None
        self.textarea: str | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        name = given.get("name", "")
        if tag == "input" and name and "disabled" not in given:
            ticked = given.get("type") not in ("checkbox", "radio") or "checked" in given
            if ticked and given.get("type") not in ("file", "submit"):
                self.found.append((name, given.get("value", "on" if given.get("type") == "checkbox" else "")))
        elif tag == "select":
            self.select = (name, [])
        elif tag == "option" and self.select:
            self.select[1].append((given.get("value", ""), "selected" in given))
        elif tag == "textarea":
            self.textarea = name
            self.found.append((name, ""))

    def handle_data(self, data: str) -> None:
        if self.textarea is not None:
            name, text = self.found.pop()
            self.found.append((name, text + data))

    def handle_endtag(self, tag: str) -> None:
        if tag == "select" and self.select:
            name, options = self.select
            chosen = [value for value, selected in options if selected] or [v for v, _ in options[:1]]
            self.found += [(name, value) for value in chosen]
            self.select = None
        elif tag == "textarea":
            name, text = self.found.pop()
            self.found.append((name, text.removeprefix("\n")))
            self.textarea = None


def form_fields(answer: Any, holding: str) -> dict[str, list[str]]:
    """What a browser would post, untouched, from the form that holds a control of this name."""
    forms = re.findall(r"<form\b.*?</form>", answer.content.decode(), re.DOTALL)
    controls = _Controls()
    controls.feed(next(form for form in forms if f'name="{holding}"' in form))
    fields: dict[str, list[str]] = {}
    for name, value in controls.found:
        fields.setdefault(name, []).append(value)
    return fields
