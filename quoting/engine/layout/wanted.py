"""What a tile has to give, and the tile it is cut from: both in the frame of the tile, lengths in inches."""

from dataclasses import dataclass

DUST = 1e-6
"""Lengths that differ by less are equal: the dust of floating point, far below what a saw can do."""


@dataclass(frozen=True, slots=True)
class Want:
    """A straight piece that a tile has to give: width, height, in.

    edge_x: which upright side must be the factory's: -1 left, 1 right, 0 neither (both are cut, or the piece
    is as wide as its tile). edge_y: -1 bottom, 1 top, 0 neither.
    """

    width: float
    height: float
    edge_x: int = 0
    edge_y: int = 0

    @property
    def area(self) -> float:
        """Square inches."""
        return self.width * self.height


@dataclass(frozen=True, slots=True)
class Tile:
    """The tile that is cut: width, height and kerf, in; directed: its offcuts are not turned."""

    width: float
    height: float
    kerf: float = 0.0
    directed: bool = False


def turns(want: Want, tile: Tile) -> tuple[Want, ...]:
    """The ways in which the piece may be taken from the tile: as it lies, or by quarter turns too."""
    if tile.directed:
        return (want,)
    once = quarter_turn(want)
    twice = quarter_turn(once)
    return (*dict.fromkeys((want, once, twice, quarter_turn(twice))),)


def quarter_turn(want: Want) -> Want:
    """The same piece turned to the left: what was its left side is now at the bottom."""
    return Want(want.height, want.width, -want.edge_y, want.edge_x)
