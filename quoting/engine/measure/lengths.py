"""Lengths as people write them: text comes in; an exact length that remembers its text goes out.

The storage unit is 1/320 mm, in which 1/64 in (127 units) and 0.1 mm (32 units) are both whole. What lies on
neither grid is rounded to the nearest unit, which is 0.003 mm, half up.
"""

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from labour.engine.refusal import Problem, Refusal

type Unit = Literal["ft", "in", "mm", "cm", "m"]
type System = Literal["us", "metric"]

PER_UNIT: dict[Unit, int] = {"ft": 97_536, "in": 8_128, "mm": 320, "cm": 3_200, "m": 320_000}
"""Storage units in one of each; 1 in = 25.4 mm."""

LONGEST = 200 * PER_UNIT["ft"]
LONGEST_TEXT = 40
EXAMPLES = '5\' 2 1/2", 62.5", 5.2 ft, 1588 mm or 1.588 m'

_METRIC: dict[str | None, Unit] = {"mm": "mm", "cm": "cm", "m": "m"}
_GLYPHS = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3",
    "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_PLAIN = str.maketrans({
    "’": "'", "‘": "'", "′": "'", "”": '"', "“": '"', "″": '"', "⁄": "/", "–": "-", "−": "-", "\u00a0": " ",
    "\u202f": " ", "\u2009": " ",
})  # fmt: skip

_NUMBER = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
_MIXED = rf"(?:[0-9]+\s+[0-9]+/[0-9]+|[0-9]+/[0-9]+|{_NUMBER})"
_FEET = r"\s*(?:'|ft\.?|foot|feet)"
_INCHES = r"\s*(?:\"|''|in\.?|inch|inches)"
_FEET_AND_INCHES = re.compile(rf"(?P<ft>{_MIXED}){_FEET}(?:\s*-?\s*(?P<in>{_MIXED})(?:{_INCHES})?)?")
_FEET_DASH_INCHES = re.compile(
    rf"(?P<ft>[0-9]+)\s*-\s*(?P<in>[0-9]+\s+[0-9]+/[0-9]+|{_NUMBER})(?:{_INCHES})?"
)
_DASHED_FRACTION = re.compile(rf"(?P<whole>[0-9]+)\s*-\s*(?P<part>[0-9]+/[0-9]+)(?P<mark>{_INCHES})?")
_ONE_UNIT = re.compile(rf"(?P<n>{_MIXED})(?:(?P<in>{_INCHES})|\s*(?P<metric>mm|cm|m))?")


class BadLength(Refusal):
    """A text is no length that can be used; the message says what would be."""


@dataclass(frozen=True, slots=True)
class Length:
    """A length in storage units, and the text exactly as it was typed."""

    units: int
    text: str

    @property
    def feet(self) -> Decimal:
        """In feet, to 28 digits."""
        return Decimal(self.units) / PER_UNIT["ft"]

    @property
    def inches(self) -> Decimal:
        """In inches, to 28 digits."""
        return Decimal(self.units) / PER_UNIT["in"]

    @property
    def mm(self) -> Decimal:
        """In millimetres, exact."""
        return Decimal(self.units) / PER_UNIT["mm"]

    def __str__(self) -> str:
        return self.text


def parse_length(text: str, default: Unit = "ft", *, zero_ok: bool = False) -> Length:
    """Read a length; a plain number is in the default unit. Raise BadLength for what is none.

    >>> parse_length("5' 2 1/2\\"").inches
    Decimal('62.5')
    """
    if len(text) > LONGEST_TEXT:
        raise _bad(f"A length of {len(text)} characters is not read. Write it like {EXAMPLES}.")
    plain = _plain(text)
    if plain.startswith("-"):
        raise _bad(f"“{text}” is negative. Write a length of more than 0, like {EXAMPLES}.")
    units = _nearest(_value(plain, text, default))
    if units == 0 and not zero_ok:
        raise _bad(f"“{text}” is no length: it is 0. Write it like {EXAMPLES}.")
    if units > LONGEST:
        raise _bad(f"“{text}” is longer than 200 ft (60.96 m), too long for a room. Check the unit.")
    return Length(units, text)


def format_length(length: Length | int, system: System = "us") -> str:
    """A length (or storage units) for showing: to the nearest 1/16 in, or to the nearest millimetre.

    >>> format_length(parse_length("1588 mm")), format_length(parse_length("5.2 ft"), "metric")
    ('5\\' 2 1/2"', '1585 mm')
    """
    units = length if isinstance(length, int) else length.units
    if system == "metric":
        return f"{_nearest(Fraction(units, PER_UNIT['mm']))} mm"
    sixteenths = _nearest(Fraction(units * 16, PER_UNIT["in"]))
    feet, rest = divmod(sixteenths, 16 * 12)
    whole, part = divmod(rest, 16)
    fraction = Fraction(part, 16)
    inches = " ".join([str(whole)] * (whole > 0 or not part) + [str(fraction)] * (part > 0))
    return f"{feet}' {inches}\"" if feet else f'{inches}"'


def _plain(text: str) -> str:
    """The text in plain characters, lower case, with single spaces."""
    for glyph, fraction in _GLYPHS.items():
        text = text.replace(glyph, f" {fraction}")
    return re.sub(r"-\s+(?=[0-9]+/)", "-", " ".join(text.translate(_PLAIN).lower().split()))


def _value(plain: str, text: str, default: Unit) -> Fraction:
    """The length in storage units, not rounded."""
    if found := _DASHED_FRACTION.fullmatch(plain):
        if default != "in" and not found["mark"]:
            shown = f'{found["whole"]} {found["part"]}" or {found["whole"]}\' {found["part"]}"'
            raise _bad(f"“{text}” can mean two things. Write {shown}.")
        return _number(f"{found['whole']} {found['part']}", text) * PER_UNIT["in"]
    if found := _FEET_AND_INCHES.fullmatch(plain):
        return _feet_and_inches(found["ft"], found["in"], text)
    if default in ("ft", "in") and (found := _FEET_DASH_INCHES.fullmatch(plain)):
        return _feet_and_inches(found["ft"], found["in"], text)
    if found := _ONE_UNIT.fullmatch(plain):
        per_unit = PER_UNIT["in"] if found["in"] else PER_UNIT[_METRIC.get(found["metric"], default)]
        return _number(found["n"], text) * per_unit
    if "," in plain:
        raise _bad(f"“{text}” has a comma. Write a decimal point and no thousands mark, like {EXAMPLES}.")
    raise _bad(f"“{text}” is no length. Write it like {EXAMPLES}.")


def _feet_and_inches(feet: str, inches: str | None, text: str) -> Fraction:
    rest = _number(inches, text) if inches else Fraction(0)
    if rest >= 12:
        raise _bad(f"“{text}” has 12 or more inches after the feet. Write inches under 12, or inches only.")
    return _number(feet, text) * PER_UNIT["ft"] + rest * PER_UNIT["in"]


def _number(text: str, typed: str) -> Fraction:
    """A whole, decimal or mixed number: "62", "62.5", "62 1/2", "1/2"."""
    try:
        return sum((Fraction(part) for part in text.split()), Fraction(0))
    except ZeroDivisionError:
        raise _bad(f"“{typed}” has a fraction over 0. Write it like {EXAMPLES}.") from None


def _nearest(value: Fraction) -> int:
    """The nearest whole number, half up."""
    return (2 * value.numerator + value.denominator) // (2 * value.denominator)


def _bad(message: str) -> BadLength:
    return BadLength(Problem("", message))
