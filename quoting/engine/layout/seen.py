"""A wall as seen from the room: places from its first corner come in, from its left end go out, in inches.

Where corners run anticlockwise, the first corner of each wall is at the right of someone who faces it.
"""

from fractions import Fraction

from quoting.engine.layout.regions import inches
from quoting.engine.measure.outline import wall_name
from quoting.engine.measure.room import Room
from quoting.engine.measure.walls import faces_of


def seen_between(room: Room, place: int, start: Fraction, end: Fraction) -> tuple[float, float]:
    """Left and right edge of a stretch of a wall."""
    if room.outline.handedness == 1:
        long = room.outline.walls[place].length
        start, end = long - end, long - start
    return inches(start), inches(end)


def seen_heights(room: Room, place: int) -> tuple[float, float, float]:
    """Length of a wall, and the height of its ceiling at the left and at the right end."""
    face = faces_of(room)[place]
    heights = (face.first, face.last) if room.outline.handedness == -1 else (face.last, face.first)
    return inches(face.length), inches(heights[0]), inches(heights[1])


def seen_neighbours(room: Room, place: int) -> tuple[str, str]:
    """Letters of the walls at the left and at the right end."""
    count = len(room.outline.walls)
    before, after = wall_name((place - 1) % count), wall_name((place + 1) % count)
    return (before, after) if room.outline.handedness == -1 else (after, before)
