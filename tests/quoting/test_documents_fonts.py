"""Which characters papers can show, and what becomes of the others."""

from hypothesis import given
from hypothesis import strategies as st

from quoting.documents.fonts import characters_missing, printable


def test_ordinary_trade_text_passes_unchanged():
    text = "Señor Łukasz’s 5′ 2½″ tub — 12 × 24 in, 3 m², €40\nsecond line"

    assert printable(text) == text
    assert characters_missing(text) == ""


def test_characters_that_no_font_has_are_named_once_in_order():
    assert characters_missing("木 🛁 木 Ж") == "木🛁Ж"


def test_characters_that_no_font_has_become_question_marks():
    assert printable("Tub 🛁, 木") == "Tub ?, ?"


def test_a_letter_and_its_accent_are_put_together():
    assert printable("Cafe\u0301") == "Café"


def test_invisible_and_control_characters_go():
    assert printable("a\u200db\x00c\u202ed\ufe0fe\x1bf") == "abcdef"


def test_line_breaks_and_odd_spaces_become_plain_ones():
    assert printable("a\r\nb\u2028c\td\u2009e\u202ff\u2011g") == "a\nb\nc d e f-g"


@given(st.text())
def test_printable_text_never_lacks_a_character(text):
    shown = printable(text)

    assert characters_missing(shown) == ""
    assert printable(shown) == shown
