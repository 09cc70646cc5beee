"""What of an area rate is cutting, and how a layout differs: its cuts come in; a factor on hours goes out.

Area rates hold usual cutting, so that hours of cuts are never added to them: only what a layout cuts more or
less than usual is. Usual is the mean of our own simulation, on starting guesses: 200 random bathrooms (seeds
0 to 199 of tests/bench/measured_baths.py), every class of tile set the usual way and started by the trade,
the pieces counted by the layouts and timed by `cut_time.MINUTES`; mean minutes ÷ mean quantity. Nobody
published such figures. To be made anew when layouts or minutes change: `./run bench takeoff --usual`.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from labour.engine.cut_time import CutHours
from labour.engine.figures import plain, to_hundredths
from labour.engine.why import Why

type _Line = tuple[str, str, bool]

LEAST, MOST = Decimal("0.60"), Decimal("2.50")
"""Bounds of the factor (starting guess): beyond them a layout says more of its guesses than of the work."""

SOURCE = "our own counts of 200 rooms; minutes a cut: starting guess"

USUAL: Mapping[_Line, tuple[Decimal, Decimal]] = {
    line: (Decimal(small), Decimal(other))
    for line, (small, other) in {
        ("tile-bench", "glass-mosaic", False): ("3.23", "2.76"),
        ("tile-bench", "large", False): ("3.02", "3.02"),
        ("tile-bench", "medium", False): ("3.46", "3.46"),
        ("tile-bench", "mosaic-sheet", False): ("2.24", "2.24"),
        ("tile-bench", "penny-round", False): ("3.16", "2.80"),
        ("tile-bench", "small", False): ("5.16", "5.16"),
        ("tile-bench", "stone", False): ("4.61", "4.61"),
        ("tile-curb", "glass-mosaic", False): ("1.73", "1.42"),
        ("tile-curb", "large", False): ("4.59", "4.59"),
        ("tile-curb", "medium", False): ("4.82", "4.82"),
        ("tile-curb", "mosaic-sheet", False): ("2.76", "2.46"),
        ("tile-curb", "penny-round", False): ("4.78", "4.78"),
        ("tile-curb", "small", False): ("12.61", "12.61"),
        ("tile-curb", "stone", False): ("9.51", "9.51"),
        ("tile-floor-large", "large", False): ("1.28", "1.07"),
        ("tile-floor-medium", "medium", False): ("1.02", "0.84"),
        ("tile-floor-mosaic", "mosaic-sheet", False): ("0.94", "0.76"),
        ("tile-floor-penny", "penny-round", False): ("0.99", "0.84"),
        ("tile-floor-plank", "plank", False): ("1.64", "1.39"),
        ("tile-floor-small", "small", False): ("1.31", "1.08"),
        ("tile-floor-stone", "stone", False): ("2.03", "1.68"),
        ("tile-niche-faces", "glass-mosaic", False): ("25.73", "25.73"),
        ("tile-niche-faces", "large", False): ("27.67", "27.67"),
        ("tile-niche-faces", "medium", False): ("30.04", "30.04"),
        ("tile-niche-faces", "mosaic-sheet", False): ("19.42", "19.42"),
        ("tile-niche-faces", "penny-round", False): ("18.24", "18.24"),
        ("tile-niche-faces", "small", False): ("53.16", "53.16"),
        ("tile-niche-faces", "stone", False): ("38.80", "38.80"),
        ("tile-shower-floor", "mosaic-sheet", False): ("1.32", "1.22"),
        ("tile-shower-floor", "penny-round", False): ("1.48", "1.32"),
        ("tile-shower-floor", "small", False): ("3.01", "2.75"),
        ("tile-wall-glass", "glass-mosaic", False): ("1.63", "1.48"),
        ("tile-wall-large", "large", False): ("2.01", "1.78"),
        ("tile-wall-medium", "medium", False): ("2.38", "2.09"),
        ("tile-wall-mosaic", "mosaic-sheet", False): ("1.22", "1.11"),
        ("tile-wall-penny", "penny-round", False): ("1.45", "1.25"),
        ("tile-wall-small", "small", False): ("3.07", "2.67"),
        ("tile-wall-stone", "stone", False): ("2.79", "2.48"),
        ("tile-floor-large", "large", True): ("1.77", "1.48"),
        ("tile-floor-medium", "medium", True): ("1.47", "1.23"),
        ("tile-floor-plank", "plank", True): ("2.09", "1.78"),
        ("tile-floor-small", "small", True): ("1.99", "1.61"),
        ("tile-floor-stone", "stone", True): ("2.94", "2.45"),
    }.items()
}
"""Minutes of cutting a unit (sq ft, niche, lin ft of curb) by task, class of the tile and whether it is set
on the diagonal: in small rooms, then in others; one figure where both are within 5 %. Small rooms cut about a
fifth more on floors and an eighth on walls, and the condition's factor on the hours holds that already."""

_UNITS = {"tile-niche-faces": "each", "tile-curb": "lin ft"}
_FORMULA = "(hours by area + hours of its cuts − usual hours of cuts) ÷ hours by area"


@dataclass(frozen=True, slots=True)
class Cutting:
    """A factor on hours without set-up, to the hundredth; 1: cutting as the rate holds it."""

    factor: Decimal
    why: Why


def cutting_of(
    task_code: str,
    tile: str,
    quantity_feet: Decimal,
    area_hours: Decimal,
    cuts: CutHours,
    *,
    small_room: bool,
    diagonal: bool,
) -> Cutting:
    """(area hours + hours of these cuts − usual hours of cuts) ÷ area hours, from 0.60 to 2.50.

    quantity_feet: of the task, in sq ft, niches or lin ft of curb. area_hours: quantity ÷ rate × conditions,
    without set-up. small_room: whether they hold that condition. diagonal: whether they do and the layout is
    on the diagonal. A floor whose tile has no line on the diagonal is taken by the plain one. 1 where there
    is no line at all or nothing to set.

    >>> from labour.engine.cut_time import cut_hours
    >>> cuts, feet, hours = cut_hours({}, "small"), Decimal(40), Decimal(0)
    >>> cutting_of("tile-floor-small", "small", feet, hours, cuts, small_room=False, diagonal=False).factor
    Decimal('1.00')
    """
    usual = USUAL.get((task_code, tile, diagonal)) or USUAL.get((task_code, tile, False))
    by_area = to_hundredths(area_hours)
    if usual is None:
        return Cutting(Decimal("1.00"), Why(_FORMULA, "no usual cutting is known = 1.00", SOURCE))
    if by_area <= 0:
        return Cutting(Decimal("1.00"), Why(_FORMULA, "nothing to set = 1.00", SOURCE))
    minutes = usual[0] if small_room else usual[1]
    expected = to_hundredths(quantity_feet * minutes / 60)
    found = to_hundredths((by_area + cuts.hours - expected) / by_area)
    factor = min(MOST, max(LEAST, found))
    unit = _UNITS.get(task_code, "sq ft")
    worked = (
        f"usual: {quantity_feet:.2f} {unit} × {plain(minutes)} min ÷ 60 = {expected} h; "
        f"({by_area} h + {cuts.hours} h of cuts − {expected} h usual) ÷ {by_area} h = {found}"
    )
    if factor != found:
        worked += f", held at {factor}: no layout counts for less than {LEAST} or more than {MOST}"
    return Cutting(factor, Why(_FORMULA, worked, SOURCE))
