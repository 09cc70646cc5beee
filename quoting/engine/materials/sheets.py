"""Boards and their fasteners: how many along a length, on a sheet, on an area.

Comes in: Decimals in inches. Goes out: counts, or counts per square foot.
"""

from decimal import ROUND_CEILING, Decimal

_SQ_IN_PER_SQ_FT = Decimal(144)


def count_along(length: Decimal, spacing: Decimal) -> int:
    """Studs, joists or fasteners along a length at no more than `spacing`, both ends included.

    length ÷ spacing, rounded up, + 1.

    >>> count_along(Decimal(174), Decimal(16))
    12
    """
    return int((length / spacing).to_integral_value(ROUND_CEILING)) + 1


def fasteners_per_sq_ft(field_spacing: Decimal, support_spacing: Decimal) -> Decimal:
    """Fasteners per square foot on a surface without an edge: 144 ÷ (spacing × support spacing).

    >>> fasteners_per_sq_ft(Decimal(8), Decimal(16))
    Decimal('1.125')
    """
    return _SQ_IN_PER_SQ_FT / (field_spacing * support_spacing)


def fasteners_per_sheet(
    width: Decimal, length: Decimal, field_spacing: Decimal, edge_spacing: Decimal, support_spacing: Decimal
) -> int:
    """Fasteners of one sheet whose supports run across its width: around the edge and between.

    Around: as many as each side takes at `edge_spacing`, corners counted once. Between: supports that are
    not at the ends × fasteners that are not at the edges.
    """
    around = 2 * (count_along(length, edge_spacing) - 1) + 2 * (count_along(width, edge_spacing) - 1)
    supports = count_along(length, support_spacing) - 2
    return around + max(supports, 0) * max(count_along(width, field_spacing) - 2, 0)


def sheet_fasteners_per_sq_ft(
    width: Decimal, length: Decimal, field_spacing: Decimal, edge_spacing: Decimal, support_spacing: Decimal
) -> Decimal:
    """Fasteners of one sheet over its area, per square foot."""
    count = fasteners_per_sheet(width, length, field_spacing, edge_spacing, support_spacing)
    return count * _SQ_IN_PER_SQ_FT / (width * length)
