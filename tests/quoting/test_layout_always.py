"""What holds of every layout, whatever outline, holes, pattern and start; shapely is the judge of areas."""

from collections import Counter
from dataclasses import replace
from math import floor

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from quoting.engine.layout.cells import cells, face_of, pitch_of, turned_spots
from quoting.engine.layout.cutting import lay
from quoting.engine.layout.sheets import is_mosaic
from quoting.engine.layout.values import CLOSE, Layout, Pattern, Piece, Setting, Shape, Spot, Surface
from tests.quoting.layout_makers import make_rectangle
from tests.quoting.layout_strategies import all_settings, spots, surfaces


def polygon_of(piece: Piece) -> shapely.Geometry:
    return shapely.Polygon(piece.ring, piece.holes)


def field_polygon(surface: Surface, edge: float) -> shapely.Geometry:
    """The surface less its holes and free edge."""
    polygon = shapely.Polygon(surface.outline)
    for hole in surface.holes:
        polygon = polygon.difference(shapely.Polygon(hole))
    return polygon.buffer(-edge, join_style="mitre", mitre_limit=10) if edge else polygon


def tiles_on(field: shapely.Geometry, setting: Setting, start: Spot) -> shapely.Geometry:
    """All that the tiles of the pattern cover of the field."""
    drawn = cells(setting, start, field.bounds)
    boxes = shapely.box(drawn.x0, drawn.y0, drawn.x1, drawn.y1)
    turned = shapely.transform(boxes, lambda spots: turned_spots(spots, drawn.angle, drawn.start))
    return shapely.union_all(shapely.intersection(turned, field), grid_size=1e-9)


def is_thin(left: shapely.Geometry) -> bool:
    """Whether no circle fits in that is wider than what pieces of four tiles may lose where they meet."""
    return bool(left.buffer(-2 * CLOSE).is_empty)


def areas_of(layout: Layout) -> list[float]:
    return sorted(piece.area for piece in layout.pieces)


@settings(max_examples=50, deadline=None)
@given(surface=surfaces(), setting=all_settings(), start=spots)
def test_pieces_joints_and_what_is_too_thin_make_the_field(surface, setting, start):
    field = field_polygon(surface, setting.edge)
    layout = lay(surface, setting, start)
    pieces = [polygon_of(piece) for piece in layout.pieces]
    tiled = shapely.Polygon() if field.is_empty else tiles_on(field, setting, start)
    laid = shapely.union_all(pieces, grid_size=1e-9)

    total = sum(areas_of(layout))
    joints, dropped = field.difference(tiled).area, tiled.difference(laid.buffer(1e-9))
    assert total == pytest.approx(laid.area, abs=1e-6)
    assert laid.difference(field.buffer(1e-9)).area < 1e-6
    assert is_thin(dropped)
    assert total + joints + dropped.area == pytest.approx(field.area, abs=1e-6)


@settings(max_examples=60, deadline=None)
@given(surface=surfaces(), setting=all_settings(), start=spots)
def test_without_joints_the_pieces_cover_the_whole_surface(surface, setting, start):
    close_set = replace(setting, joint=0.0, edge=0.0)
    if setting.pattern is Pattern.BASKET:
        close_set = replace(close_set, height=2 * setting.width)
    pieces = [polygon_of(piece) for piece in lay(surface, close_set, start).pieces]

    left = field_polygon(surface, 0).difference(shapely.union_all(pieces, grid_size=1e-9))

    assert is_thin(left)


@settings(max_examples=60, deadline=None)
@given(surface=surfaces(), setting=all_settings(), start=spots)
def test_every_piece_can_be_cut_from_its_tile(surface, setting, start):
    for piece in lay(surface, setting, start).pieces:
        assert piece.needs[0] <= piece.width + 1e-9
        assert piece.needs[1] <= piece.height + 1e-9
        assert piece.area <= piece.needs[0] * piece.needs[1] + 1e-6
        assert piece.area == pytest.approx(polygon_of(piece).area, abs=1e-6)
        if not is_mosaic(setting):
            assert (piece.cut == 0) == (piece.shape is Shape.WHOLE)


@given(setting=all_settings(), columns=st.integers(1, 6), rows=st.integers(1, 6))
def test_a_rectangle_that_the_tiles_divide_takes_columns_times_rows(setting, columns, rows):
    stacked = replace(setting, pattern=Pattern.STACKED)
    (width, height), (across, up) = face_of(stacked), pitch_of(stacked)
    twice = 2 * stacked.edge
    floor = make_rectangle((columns - 1) * across + width + twice, (rows - 1) * up + height + twice)

    layout = lay(floor, stacked, (stacked.edge, stacked.edge))

    assert [piece.shape for piece in layout.pieces] == [Shape.WHOLE] * (columns * rows)
    assert sum(areas_of(layout)) == pytest.approx(columns * rows * width * height)


@given(setting=all_settings(), width=st.floats(20.0, 90.0), height=st.floats(20.0, 90.0))
def test_whole_tiles_from_a_corner_are_those_that_fit(setting, width, height):
    stacked = replace(setting, pattern=Pattern.STACKED, edge=0.0)
    across, up = pitch_of(stacked)

    whole = [piece for piece in lay(make_rectangle(width, height), stacked, (0, 0)).pieces if not piece.cut]

    fits = [floor((side + stacked.joint + CLOSE) / step) for side, step in ((width, across), (height, up))]
    assert len(whole) == fits[0] * fits[1]


@settings(max_examples=40, deadline=None)
@given(surface=surfaces(), setting=all_settings(), start=spots, turn=st.integers(0, 9), data=st.data())
def test_it_does_not_matter_where_and_which_way_an_outline_begins(surface, setting, start, turn, data):
    turn %= len(surface.outline)
    outline = (surface.outline[turn:] + surface.outline[:turn])[::-1]
    same = replace(surface, outline=outline, holes=tuple(data.draw(st.permutations(surface.holes))))

    one, other = lay(surface, setting, start), lay(same, setting, start)

    assert Counter(piece.place for piece in one.pieces) == Counter(piece.place for piece in other.pieces)
    assert areas_of(one) == pytest.approx(areas_of(other), abs=1e-6)


@settings(max_examples=40, deadline=None)
@given(surface=surfaces(), setting=all_settings(), start=spots)
def test_a_mirrored_surface_takes_the_same_pieces_mirrored(surface, setting, start):
    """Half offset is its own mirror image, both ways."""
    half = replace(setting, pattern=Pattern.OFFSET, offset=0.5, edge=0.0)
    mirrored = replace(
        surface,
        outline=tuple((-x, y) for x, y in surface.outline),
        holes=tuple(tuple((-x, y) for x, y in hole) for hole in surface.holes),
    )

    one = lay(surface, half, start)
    other = lay(mirrored, half, (-start[0] - face_of(half)[0], start[1]))

    assert areas_of(one) == pytest.approx(areas_of(other), abs=1e-6)
    assert sum(piece.cut for piece in one.pieces) == pytest.approx(sum(piece.cut for piece in other.pieces))


@settings(max_examples=40, deadline=None)
@given(surface=surfaces(), setting=all_settings(), start=spots, steps=st.integers(-3, 3))
def test_a_start_that_is_whole_pitches_away_gives_the_same_pieces(surface, setting, start, steps):
    stacked = replace(setting, pattern=Pattern.STACKED)
    across, up = pitch_of(stacked)

    one = lay(surface, stacked, start)
    other = lay(surface, stacked, (start[0] + steps * across, start[1] - steps * up))

    assert areas_of(one) == pytest.approx(areas_of(other), abs=1e-6)
