"""Signatures: what is read from a form, what is refused, and how a drawing becomes markup."""

import json
import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from quoting.agree.signing import (
    BadSignature,
    Evidence,
    Signature,
    read_evidence,
    read_signature,
    read_strokes,
    signature_svg,
)
from tests.makers import AT

LINE = "[[[0, 0], [1000, 300]]]"
points = st.tuples(st.integers(0, 1000), st.integers(0, 300))
drawings = st.lists(st.lists(points, min_size=1, max_size=20).map(tuple), max_size=10).map(
    lambda strokes: (((0, 0), (100, 0)), *strokes)
)


def post(**changed: str) -> dict[str, str]:
    """What the form sends."""
    return {"name": "Ada Brook", "confirm": "yes", "typed": "A. Brook", "signature_kind": "typed"} | changed


def meta(**changed: str) -> dict[str, Any]:
    """What is known of the request."""
    return {"REMOTE_ADDR": "192.0.2.7", "HTTP_USER_AGENT": "Test browser"} | changed


def test_a_typed_signature_is_kept_as_it_was_typed():
    assert read_signature(post()).to_json() == {"typed": "A. Brook"}


def test_a_drawing_is_kept_as_strokes_of_points():
    read = read_signature(post(signature_kind="drawn", strokes=LINE))

    assert read.to_json() == {"drawn": [[[0, 0], [1000, 300]]]}


@given(drawings)
def test_a_drawing_that_is_sent_stored_and_read_back_is_the_same(strokes):
    read = read_strokes(json.dumps(strokes))

    assert read == strokes
    assert Signature.from_json(Signature(strokes=read).to_json()) == Signature(strokes=strokes)


@given(st.recursive(st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=5), st.lists))
def test_anything_else_is_refused_with_the_field_named(found):
    try:
        strokes = read_strokes(json.dumps(found))
    except BadSignature as refusal:
        assert [problem.field for problem in refusal.problems] == ["strokes"]
    else:
        assert all(0 <= x <= 1000 and 0 <= y <= 300 for stroke in strokes for x, y in stroke)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "Draw your signature"),
        ("[[[5, 5]]]", "Draw your signature"),
        ("[[[5, 5], [20, 20]]]", "Draw your signature"),
        ("[[[0, 0], [1000, 301]]]", "could not be read"),
        ("[[[-1, 0], [100, 0]]]", "could not be read"),
        ("[[[0.5, 0], [100, 0]]]", "could not be read"),
        ("[[[true, 0], [100, 0]]]", "could not be read"),
        ("[[]]", "could not be read"),
        ('{"a": 1}', "could not be read"),
        ("not json", "could not be read"),
        ("[" * 100_000, "could not be read"),
        (json.dumps([[[0, 0], [100, 0]]] * 201), "could not be read"),
        (json.dumps([[[0, 0], [100, 0]] * 3001]), "too long"),
    ],
)
def test_a_drawing_that_can_not_be_one_is_refused(text, words):
    with pytest.raises(BadSignature, match=words):
        read_strokes(text)


def test_every_problem_of_the_form_is_named_at_once():
    with pytest.raises(BadSignature) as refused:
        read_evidence(post(name="\x00", confirm="", typed=" "), meta(), AT)

    assert [problem.field for problem in refused.value.problems] == ["name", "confirm", "typed"]


def test_evidence_says_who_when_and_from_where():
    read = read_evidence(post(name=" Ada Brook "), meta(), AT)

    assert read == Evidence("Ada Brook", Signature("A. Brook"), AT, "192.0.2.7", "Test browser")
    assert read.texts()["moment"] == "November 2, 2026, 04:00:00 EST"


def test_what_a_proxy_says_of_the_address_is_told_apart_and_cut_to_length():
    told = meta(HTTP_X_FORWARDED_FOR="10.0.0.1, 198.51.100.9", HTTP_USER_AGENT="x\n" * 300)

    read = read_evidence(post(), told, AT)

    assert read.address == "192.0.2.7 for 198.51.100.9"
    assert read.browser == "x" * 200


def test_a_drawing_becomes_an_outline_with_a_title():
    markup = signature_svg(Signature(strokes=(((0, 10), (100, 20)), ((5, 5),))))

    assert "<title>Signature, drawn by hand</title>" in markup
    assert re.findall(r'd="([^"]*)"', markup) == ["M0 10 L100 20", "M5 5 L6 5"]


def test_a_typed_signature_is_text_and_never_markup():
    assert "&lt;b&gt;Ada&lt;/b&gt;" in signature_svg(Signature(typed="<b>Ada</b>"))
