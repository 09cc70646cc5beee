"""The physics of film, bed, joint and screed: how much lies on a surface.

Comes in: Decimals, thicknesses in inches or mils (thousandths of an inch), areas in square feet. Goes
out: Decimals, not rounded. Figures must be above zero; the caller checks them.
"""

from decimal import Decimal

SQ_FT_MILS_PER_GALLON = Decimal(231_000) / 144
"""One US gallon is 231 cubic inches; spread one mil thin it covers 231 × 1000 ÷ 144 = 1604.17 sq ft."""

MIN_BED = Decimal(3) / 32
"""Inches of mortar left under an embedded tile at least: ANSI A108.5, section 2.2.2."""

_IN_PER_FT = Decimal(12)


def coverage_per_gallon(mils: Decimal, solids: Decimal = Decimal(1)) -> Decimal:
    """Square feet that a US gallon covers at a film of `mils`.

    1604.17 × solids ÷ mils. mils: wet thickness with solids 1, dry thickness with the volume solids as a
    fraction. Source: definition of the gallon (231 cu in).

    >>> round(coverage_per_gallon(Decimal(10)), 3)
    Decimal('160.417')
    """
    return SQ_FT_MILS_PER_GALLON * solids / mils


def wet_film(dry_mils: Decimal, solids: Decimal) -> Decimal:
    """Wet mils that dry to `dry_mils`: dry ÷ volume solids (a fraction)."""
    return dry_mils / solids


def film_gallons(area: Decimal, wet_mils: Decimal, transfer: Decimal = Decimal(1)) -> Decimal:
    """US gallons of one coat: area × wet mils ÷ 1604.17 ÷ transfer.

    area: square feet. transfer: share of what leaves the can that stays on the surface.

    >>> round(film_gallons(Decimal("160.417"), Decimal(10)), 4)
    Decimal('1.0000')
    """
    return area / coverage_per_gallon(wet_mils) / transfer


def bed_depth(notch_width: Decimal, notch_depth: Decimal, land: Decimal) -> Decimal:
    """Mean depth of mortar combed with a square notch, flattened: width × depth ÷ (width + land), inches.

    Source: geometry.

    >>> bed_depth(Decimal("0.25"), Decimal("0.25"), Decimal("0.25"))
    Decimal('0.125')
    """
    return notch_width * notch_depth / (notch_width + land)


def whole_bed(combed: Decimal, back_butter: Decimal = Decimal(0), least: Decimal = MIN_BED) -> Decimal:
    """Inches of mortar under a tile: what was combed, at least the least bed, and what its back got.

    Source: least bed 3/32 in, ANSI A108.5 section 2.2.2.
    """
    return max(combed, least) + back_butter


def tiles_per_area(length: Decimal, width: Decimal, joint: Decimal) -> Decimal:
    """Tiles in one square unit when each takes its own size and one joint each way.

    1 ÷ ((length + joint) × (width + joint)). Units: whatever the lengths are in. Source: geometry.

    >>> round(tiles_per_area(Decimal(24), Decimal(12), Decimal("0.125")) * 144 * 100, 2)
    Decimal('49.23')
    """
    return 1 / ((length + joint) * (width + joint))


def joint_depth(length: Decimal, width: Decimal, joint: Decimal, depth: Decimal) -> Decimal:
    """Grout as if spread over the whole surface: depth × (1 − L·W ÷ ((L + j)(W + j))), exact.

    Inches give cubic inches per square inch. Source: geometry.
    """
    return depth * (1 - length * width * tiles_per_area(length, width, joint))


def joint_depth_thin(length: Decimal, width: Decimal, joint: Decimal, depth: Decimal) -> Decimal:
    """The same by the common short form: (L + W) ÷ (L·W) × joint × depth.

    It counts the crossings twice and leaves the joints out of the surface: 9 % too much on a 2 in mosaic.
    Kept to be compared with printed tables; `joint_depth` is what is bought by.
    """
    return (length + width) / (length * width) * joint * depth


def volume_over(area: Decimal, depth: Decimal) -> Decimal:
    """Cubic feet of a layer: square feet × inches ÷ 12.

    >>> round(volume_over(Decimal(50), Decimal("0.25")), 3)
    Decimal('1.042')
    """
    return area * depth / _IN_PER_FT


def exact(drawn: float) -> Decimal:
    """A figure of a drawing (a float, in inches) as a Decimal, to the ten-millionth."""
    return Decimal(f"{drawn:.7f}")
