"""Surfaces for layout tests: only what matters to the test is said."""

from quoting.engine.layout.values import Ring, Surface, SurfaceKind


def box_ring(left: float, bottom: float, right: float, top: float) -> Ring:
    """Corners of an upright rectangle."""
    return (left, bottom), (right, bottom), (right, top), (left, top)


def make_surface(outline: Ring, *holes: Ring) -> Surface:
    """A floor with holes."""
    return Surface("floor", "Floor", SurfaceKind.FLOOR, outline, holes)


def make_rectangle(width: float, height: float, *holes: Ring) -> Surface:
    """A floor from (0, 0). Inches."""
    return make_surface(box_ring(0, 0, width, height), *holes)
