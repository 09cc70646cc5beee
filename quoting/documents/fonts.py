"""The bundled fonts: their bytes, and which characters they can print.

Comes in: text that people typed. Goes out: text that every bundled face of the body can show, so that no
paper holds an empty box or borrows a font from the machine it is made on.
"""

import unicodedata
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import fontpkg_barlow
import fontpkg_zilla_slab

_BREAKS = str.maketrans({"\r": "\n", "\u2028": "\n", "\u2029": "\n", "\u0085": "\n", "\t": " "})
_LOOK_ALIKES = {"\u2010": "-", "\u2011": "-", "\u2012": "–", "\u2015": "—", "\u2212": "−"}


@dataclass(frozen=True, slots=True)
class Face:
    """One font file. address: what the style sheet calls it. body: whether running text is set in it."""

    address: str
    path: Path
    body: bool


def _barlow(name: str) -> Face:
    return Face(f"bundled:{name}", fontpkg_barlow.ROOT / "files" / f"{name}.ttf", body=True)


FACES = (
    _barlow("Barlow-Regular"),
    _barlow("Barlow-Medium"),
    _barlow("Barlow-SemiBold"),
    Face(
        "bundled:ZillaSlab-SemiBold",
        fontpkg_zilla_slab.ROOT / "files" / "ZillaSlab-SemiBold.ttf",
        body=False,
    ),
)


@cache
def read_fonts() -> dict[str, bytes]:
    """Address → bytes of every bundled face, read once a process."""
    return {face.address: face.path.read_bytes() for face in FACES}


@cache
def _covered() -> frozenset[int]:
    """Code points that all faces of the body have. The headings' face falls back on them."""
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    maps = []
    for face in FACES:
        if face.body:
            with TTFont(face.path, lazy=True) as font:
                maps.append(frozenset(font.getBestCmap()))
    return frozenset.intersection(*maps)


def _tidy(text: str) -> str:
    """Compose accents, keep line breaks, drop what has no shape (controls, joiners, selectors)."""
    composed = unicodedata.normalize("NFC", text.replace("\r\n", "\n").translate(_BREAKS))
    kept = []
    for character in composed:
        category = unicodedata.category(character)
        if category == "Zs" and character != "\u00a0":
            kept.append(" ")
        elif character == "\n" or not (category in ("Cc", "Cf") or "\ufe00" <= character <= "\ufe0f"):
            kept.append(_LOOK_ALIKES.get(character, character))
    return "".join(kept)


def characters_missing(text: str) -> str:
    """The characters of a text that the fonts lack, each once, in order of appearance.

    >>> characters_missing("Tub 🛁 and 木 and 木")
    '🛁木'
    """
    covered = _covered()
    missing = (c for c in _tidy(text) if c != "\n" and ord(c) not in covered)
    return "".join(dict.fromkeys(missing))


def printable(text: str) -> str:
    """The text with nothing in it that the fonts cannot show.

    Controls and invisible marks go; odd spaces and hyphens become plain ones; every other character that
    is not covered becomes U+FFFD if the fonts have it (Barlow has not), else a question mark.

    >>> printable("Tub 🛁\\x07")
    'Tub ?'
    """
    if text.isascii() and text.isprintable():
        return text
    covered = _covered()
    stand_in = "\ufffd" if 0xFFFD in covered else "?"
    return "".join(c if c == "\n" or ord(c) in covered else stand_in for c in _tidy(text))
