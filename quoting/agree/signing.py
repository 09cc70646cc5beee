"""A client's signature: typed, drawn with finger or mouse, or given on paper; and the evidence of it.

Comes in: what the signing form posts (see `templates/public/sign.html`). Goes out: checked values, text for
the row and for the paper. A drawing is strokes of points, 0–1000 across and 0–300 down.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from math import dist
from typing import Any

from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.safestring import SafeString

from labour.engine.refusal import Problem, Refusal

WIDTH, HEIGHT = 1000, 300
MOST_STROKES, MOST_POINTS, MOST_LETTERS = 200, 6000, 120_000
LEAST_INK = 60
"""Length of all strokes together, below which a drawing is a slip of the finger."""

type Stroke = tuple[tuple[int, int], ...]


class BadSignature(Refusal):
    """The signature is missing or can not be read."""


@dataclass(frozen=True, slots=True)
class Signature:
    """One of three: a typed name, a drawing, or words on how it was signed on paper."""

    typed: str = ""
    strokes: tuple[Stroke, ...] = ()
    on_paper: str = ""

    def to_json(self) -> dict[str, Any]:
        """As `Signed.signature` keeps it."""
        if self.strokes:
            return {"drawn": [[list(point) for point in stroke] for stroke in self.strokes]}
        return {"on_paper": self.on_paper} if self.on_paper else {"typed": self.typed}

    @classmethod
    def from_json(cls, stored: Mapping[str, Any]) -> "Signature":
        """What `to_json` stored."""
        drawn = tuple(tuple((x, y) for x, y in stroke) for stroke in stored.get("drawn", ()))
        return cls(stored.get("typed", ""), drawn, stored.get("on_paper", ""))

    def texts(self) -> dict[str, Any]:
        """As `templates/documents/parts/signature.html` reads it: a drawing as outlines of its strokes."""
        return {"typed": self.typed, "on_paper": self.on_paper, "paths": [_path(row) for row in self.strokes]}


@dataclass(frozen=True, slots=True)
class Evidence:
    """Who signed, how, when, and from where. address: of the network. Both are empty for paper."""

    name: str
    signature: Signature
    at: datetime
    address: str = ""
    browser: str = ""

    def columns(self) -> dict[str, Any]:
        """The fields of `Signed` that it fills."""
        return {
            "name": self.name,
            "signature": self.signature.to_json(),
            "signed_at": self.at,
            "address": self.address,
            "browser": self.browser,
        }

    def texts(self) -> dict[str, Any]:
        """As `templates/documents/parts/executed.html` reads it; the moment in the house's local time."""
        moment = timezone.localtime(self.at)
        return {
            "name": self.name,
            "signature": self.signature.texts(),
            "moment": f"{moment:%B} {moment.day}, {moment.year}, {moment:%H:%M:%S %Z}",
            "address": self.address,
            "browser": self.browser,
        }


def read_evidence(post: Mapping[str, str], meta: Mapping[str, Any], at: datetime) -> Evidence:
    """Name, signature and the confirmation as they were posted, with where from. Raise BadSignature.

    meta: of the request. Every problem is named at once.
    """
    problems = []
    name = post.get("name", "").strip()
    if not 2 <= len(name) <= 120 or not name.isprintable():
        problems.append(Problem("name", "Write your full name, 2 to 120 letters."))
    if not post.get("confirm"):
        problems.append(Problem("confirm", "Tick the box to confirm."))
    try:
        signature = read_signature(post)
    except BadSignature as refusal:
        problems.extend(refusal.problems)
    if problems:
        raise BadSignature(*problems)
    return Evidence(name, signature, at, _address_of(meta), _plain(meta.get("HTTP_USER_AGENT", ""))[:200])


def read_signature(post: Mapping[str, str]) -> Signature:
    """The signature as posted: signature_kind ("typed" or "drawn"), typed, strokes. Raise BadSignature."""
    if post.get("signature_kind") == "drawn":
        return Signature(strokes=read_strokes(post.get("strokes", "")))
    typed = post.get("typed", "").strip()
    if not 2 <= len(typed) <= 120 or not typed.isprintable():
        raise BadSignature(Problem("typed", "Type your name as your signature, 2 to 120 letters."))
    return Signature(typed=typed)


def read_strokes(text: str) -> tuple[Stroke, ...]:
    """A drawing from its JSON: [[[x, y], …] stroke, …]. Raise BadSignature."""
    try:
        found = json.loads(text) if 0 < len(text) <= MOST_LETTERS else []
    except (ValueError, RecursionError):
        found = None
    if not isinstance(found, list) or len(found) > MOST_STROKES or not all(map(_is_stroke, found)):
        raise BadSignature(Problem("strokes", "The drawing could not be read. Clear it and draw again."))
    strokes = tuple(tuple((x, y) for x, y in stroke) for stroke in found)
    ink = sum(dist(one, other) for stroke in strokes for one, other in pairwise(stroke))
    if sum(map(len, strokes)) > MOST_POINTS:
        raise BadSignature(Problem("strokes", "The drawing is too long. Clear it and draw again."))
    if ink < LEAST_INK:
        raise BadSignature(Problem("strokes", "Draw your signature in the field, or type your name instead."))
    return strokes


def signature_svg(signature: Signature) -> SafeString:
    """The signature as markup: a drawing with its title, or words."""
    return render_to_string("documents/parts/signature.html", {"signature": signature.texts()})


def _is_stroke(found: Any) -> bool:
    return isinstance(found, list) and bool(found) and all(map(_is_point, found))


def _is_point(found: Any) -> bool:
    if not isinstance(found, list) or len(found) != 2 or any(type(value) is not int for value in found):
        return False
    return bool(0 <= found[0] <= WIDTH and 0 <= found[1] <= HEIGHT)


def _path(stroke: Stroke) -> str:
    """One stroke as an outline; a lone point is a dot."""
    points = stroke if len(stroke) > 1 else (stroke[0], (stroke[0][0] + 1, stroke[0][1]))
    return "M" + " L".join(f"{x} {y}" for x, y in points)


def _address_of(meta: Mapping[str, Any]) -> str:
    """Where the request came from; what a proxy says is told apart, since anyone can write it."""
    direct, told = _plain(meta.get("REMOTE_ADDR", "")), _plain(meta.get("HTTP_X_FORWARDED_FOR", ""))
    return f"{direct} for {told.rpartition(',')[2].strip()}"[:60] if told else direct[:60]


def _plain(text: str) -> str:
    return "".join(letter for letter in text if letter.isprintable())
