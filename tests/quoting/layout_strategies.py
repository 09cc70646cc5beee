"""Random surfaces and settings for properties of layouts."""

from math import cos, pi, sin

from hypothesis import strategies as st

from quoting.engine.layout.values import Pattern, Ring, Setting, Surface
from tests.quoting.layout_makers import box_ring, make_surface

lengths = st.floats(2.0, 40.0).map(lambda length: round(length, 6))
places = st.floats(-30.0, 90.0).map(lambda place: round(place, 6))
spots = st.tuples(places, places)
shares = st.sampled_from([0.0, 0.25, 0.33, 0.5, 0.4])


@st.composite
def boxes(draw: st.DrawFn) -> Ring:
    """Upright rectangles, on the surface, beside it or across its edge."""
    (left, bottom), width, height = draw(spots), draw(lengths), draw(lengths)
    return box_ring(left, bottom, left + width, bottom + height)


@st.composite
def stars(draw: st.DrawFn) -> Ring:
    """Simple polygons with slanted sides: corners in order of their angle around a middle."""
    radii = draw(st.lists(st.floats(8.0, 60.0), min_size=3, max_size=9))
    angles = [2 * pi * place / len(radii) for place in range(len(radii))]
    return tuple(
        (round(r * cos(a) + 30, 6), round(r * sin(a) + 30, 6)) for r, a in zip(radii, angles, strict=True)
    )


@st.composite
def stairs(draw: st.DrawFn) -> Ring:
    """Upright outlines with one or two steps at the upper right."""
    steps = sorted(draw(st.lists(st.integers(4, 60), min_size=2, max_size=3, unique=True)))
    heights = sorted(draw(st.lists(st.integers(4, 60), min_size=3, max_size=3, unique=True)), reverse=True)
    tops = [
        corner for x, y, z in zip(steps, heights, heights[1:], strict=False) for corner in ((x, y), (x, z))
    ]
    last = tops.pop()[0], 0
    return ((0, 0), last, *reversed(tops), (0, heights[0]))


@st.composite
def surfaces(draw: st.DrawFn) -> Surface:
    """An outline with up to three holes, one of them slanted now and then."""
    holes = draw(st.lists(boxes(), max_size=2))
    triangle = draw(st.lists(st.tuples(spots, lengths), max_size=1))
    holes += [((x, y), (x + size, y + size / 2), (x, y + size)) for (x, y), size in triangle]
    return make_surface(draw(stars() | boxes() | stairs()), *holes)


@st.composite
def all_settings(draw: st.DrawFn) -> Setting:
    """Any pattern, joint, free edge and turn."""
    pattern, width = draw(st.sampled_from(list(Pattern))), draw(st.floats(3.0, 20.0))
    height = width if pattern is Pattern.TWO_SIZE else width * draw(st.sampled_from([1.0, 2.0, 3.3]))
    joint, edge = draw(st.sampled_from([0.0, 0.125, 0.5])), draw(st.sampled_from([0.0, 0.25]))
    small = width * draw(st.floats(0.3, 1.0))
    return Setting(width, height, pattern, joint, edge, draw(shares), draw(st.booleans()), small)
