"""Writes elements of UBL 2.1.

Comes in: names and texts. Goes out: elements, and the bytes of a whole document.
"""

from decimal import Decimal
from xml.etree.ElementTree import Element, SubElement, tostring

_UBL = "urn:oasis:names:specification:ubl:schema:xsd:"


def start(root: str) -> Element:
    """An empty document: "Invoice" or "CreditNote"."""
    spaces = {
        "xmlns": f"{_UBL}{root}-2",
        "xmlns:cac": f"{_UBL}CommonAggregateComponents-2",
        "xmlns:cbc": f"{_UBL}CommonBasicComponents-2",
    }
    return Element(root, spaces)


def part(parent: Element, name: str) -> Element:
    """A new part that holds others."""
    return SubElement(parent, f"cac:{name}")


def text(parent: Element, name: str, words: str, **attributes: str) -> None:
    """A new part that holds a text; none for an empty text."""
    if shown := clean(words):
        SubElement(parent, f"cbc:{name}", attributes).text = shown


def money(parent: Element, name: str, amount: Decimal, currency: str) -> None:
    """A new part that holds an amount with its currency."""
    text(parent, name, f"{amount:.2f}", currencyID=currency)


def plain_number(value: Decimal) -> str:
    """A rate without zeros behind.

    >>> plain_number(Decimal("8.8750")), plain_number(Decimal("10"))
    ('8.875', '10')
    """
    digits = f"{value:f}"
    return digits.rstrip("0").rstrip(".") if "." in digits else digits


def clean(words: str) -> str:
    """The text without what XML cannot hold, and without blanks around it."""
    return "".join(letter if _fits(ord(letter)) else " " for letter in words).strip()


def _fits(code: int) -> bool:
    """Whether a character is one of XML 1.0, section 2.2."""
    return code in (0x9, 0xA, 0xD) or 0x20 <= code <= 0xD7FF or 0xE000 <= code <= 0xFFFD or code >= 0x10000


def finish(root: Element) -> bytes:
    """The document as bytes; the same for the same elements."""
    return b'<?xml version="1.0" encoding="UTF-8"?>\n' + tostring(root, encoding="unicode").encode()
