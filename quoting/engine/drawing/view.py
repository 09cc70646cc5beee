"""Where a place comes to lie on a sheet: a box in inches and margins come in, a view goes out."""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Self

from quoting.engine.drawing.svg import Sheet
from quoting.engine.layout.values import Spot
from quoting.engine.measure.lengths import PER_UNIT, System, format_length

WIDE, HIGH = 340.0, 400.0
"""Most room for what is drawn, without its dimensions, in sheet units."""

_LARGEST = 9.0


@dataclass(frozen=True, slots=True)
class Margins:
    """Room for dimensions around what is drawn, in sheet units."""

    left: float
    right: float
    top: float
    bottom: float


@dataclass(frozen=True, slots=True)
class View:
    """low and high: opposite corners of what is drawn, in."""

    low: Spot
    high: Spot
    scale: float
    margins: Margins

    @classmethod
    def of(cls, spots: Iterable[Spot], margins: Margins) -> Self:
        """As large as fits the sheet, around all the spots."""
        xs, ys = zip(*spots, strict=True)
        span = max(max(xs) - min(xs), 1.0), max(max(ys) - min(ys), 1.0)
        scale = min(WIDE / span[0], HIGH / span[1], _LARGEST)
        return cls((min(xs), min(ys)), (max(xs), max(ys)), scale, margins)

    def at(self, spot: Spot) -> Spot:
        """From inches to the sheet."""
        x, y = spot
        return self.margins.left + (x - self.low[0]) * self.scale, self.margins.top + (
            self.high[1] - y
        ) * self.scale

    def ring(self, ring: Iterable[Spot]) -> list[Spot]:
        """A ring on the sheet."""
        return [self.at(spot) for spot in ring]

    def sheet(self, ids: str, *, least: float = 0) -> Sheet:
        """A sheet that holds it with its margins, at least so wide."""
        wide = (self.high[0] - self.low[0]) * self.scale + self.margins.left + self.margins.right
        high = (self.high[1] - self.low[1]) * self.scale + self.margins.top + self.margins.bottom
        return Sheet(ids, max(wide, least), high)

    @property
    def edges(self) -> tuple[float, float, float, float]:
        """Left, right, upper and lower edge of what is drawn, on the sheet."""
        (a, b), (c, d) = self.at(self.low), self.at(self.high)
        return a, c, d, b


def cut_shown(inches: float, system: System) -> str:
    """A tile's or a cut's length: inches alone, as the tape is read at the saw; or millimetres."""
    if system == "metric":
        return shown(inches, system)
    whole, part = divmod(round(inches * 16), 16)
    return " ".join([str(whole)] * (whole > 0 or not part) + [str(Fraction(part, 16))] * (part > 0)) + '"'


def shown(inches: float, system: System) -> str:
    """A length as the firm writes it: to 1/16 in or to the millimetre."""
    return format_length(round(inches * PER_UNIT["in"]), system)
