"""What published rules say of a setting: surface and setting come in; advice goes out, each with its source.

The rules are those of the editions named beside them. Local codes and the maker's sheet go before them.
"""

from dataclasses import dataclass

from quoting.engine.layout.cells import face_of
from quoting.engine.layout.dropped import in_inches
from quoting.engine.layout.movement import is_wet, joints_across, movement_spacing
from quoting.engine.layout.values import Pattern, Setting, Surface

LEAST_JOINT = 1 / 16
"""Inches: ANSI A108.02, section 4.3.8."""

LARGE_EDGE = 15.0
"""Inches: a tile with an edge of 15 in or longer wants the flatter surface (ANSI A108.01, A108.02)."""

LARGEST_OFFSET = 0.33
"""Share of the side that is offset, where it is over 15 in (ANSI A108.02)."""

RUNNING_BOND_JOINT = 1 / 8
"""Inches on average at least: rectified tile with a side over 15 in in running bond (ANSI A108.02)."""

_DUST = 1e-6
_THIRD = 1 / 3
_A108_02 = "ANSI A108.02"


@dataclass(frozen=True, slots=True)
class Advice:
    """rule: its name in the list of published checks. broken: the setting does not keep it as it stands."""

    rule: str
    words: str
    source: str
    broken: bool = False


@dataclass(frozen=True, slots=True)
class Flatness:
    """How far a surface may be out of flat: `long` inches in 10 ft and `short` inches in `over` inches."""

    long: float
    short: float
    over: float


def advise(
    surface: Surface,
    setting: Setting,
    *,
    size_variation: float | None = None,
    sunny: bool = False,
    wet: bool = False,
) -> tuple[Advice, ...]:
    """Broken rules first, then what the setter has to keep.

    size_variation: between the largest and the smallest face of the tile at hand, inches; None: not measured.
    sunny: direct sun falls on it. wet: it gets wet (showers, niches, curbs and benches always do).
    """
    found = [
        *_offset(setting),
        *_joint(setting, size_variation),
        *_flatness(setting),
        *_contact(wet=wet or is_wet(surface)),
        _lippage(setting),
        *_movement(surface, sunny=sunny, wet=wet),
    ]
    return tuple(sorted(found, key=lambda advice: not advice.broken))


def least_joint(setting: Setting, size_variation: float = 0.0) -> float:
    """Narrowest joint, inches: the largest of 1/16, 3 × size variation, and 1/8 for long tile in a bond.

    Source: ANSI A108.02, section 4.3.8. The last holds for rectified tile.
    """
    bond = RUNNING_BOND_JOINT if _is_long_bond(setting) else 0.0
    return max(LEAST_JOINT, 3 * size_variation, bond)


def flatness_of(setting: Setting) -> Flatness:
    """What the surface under a tile must keep, by its longest edge; 15 in counts as large.

    Source: ANSI A108.01 and A108.02. For a sheet the tiles on it count, which are all below 15 in.
    """
    is_large = max(face_of(setting)) >= LARGE_EDGE - _DUST and setting.pattern != Pattern.SHEET
    return Flatness(1 / 8, 1 / 16, 24.0) if is_large else Flatness(1 / 4, 1 / 16, 12.0)


def least_contact(*, wet: bool) -> int:
    """Percent of a tile's back that mortar must touch at least (ANSI A108.5, section 2.2.3)."""
    return 95 if wet else 80


def lippage_allowed(joint: float, warpage: float = 0.0) -> float:
    """Inches by which neighbouring tiles may stand proud: 1/32, from a joint of 1/4 in on 1/16, + warpage.

    Source: ANSI A108.02, section 4.3.7.
    """
    return (1 / 32 if joint < 1 / 4 - _DUST else 1 / 16) + warpage


def offset_of(setting: Setting) -> float:
    """Share of the tile by which neighbouring courses are apart, the shorter way; 0 where none is moved."""
    if setting.pattern not in (Pattern.OFFSET, Pattern.PLANK):
        return 0.0
    share = setting.offset % 1
    return min(share, 1 - share)


def _is_long_bond(setting: Setting) -> bool:
    return offset_of(setting) > 0 and max(face_of(setting)) > LARGE_EDGE + _DUST


def _offset(setting: Setting) -> list[Advice]:
    if not _is_long_bond(setting) or offset_of(setting) <= _THIRD + _DUST:
        return []
    side = in_inches(max(face_of(setting)))
    words = (
        f"Courses are offset by {100 * offset_of(setting):.0f} % of a side of {side}. Over 15 in it may "
        "be 33 % at most, as long tile is bowed."
    )
    return [Advice("I12", words, _A108_02, broken=True)]


def _joint(setting: Setting, size_variation: float | None) -> list[Advice]:
    section = f"{_A108_02}, section 4.3.8"
    joint, found = setting.joint, []
    if joint < LEAST_JOINT - _DUST:
        words = f"The joint is {in_inches(joint)}; the narrowest is 1/16 in, whatever the tile."
        found.append(Advice("I08", words, section, broken=True))
    if size_variation is None:
        words = (
            "Measure the tile at hand: the joint must be 3 times the difference between its sizes at least."
        )
        found.append(Advice("I09", words, section))
    elif joint < 3 * size_variation - _DUST:
        words = (
            f"The joint is {in_inches(joint)}, but the tile varies by {in_inches(size_variation)}: it needs "
            f"{in_inches(3 * size_variation)}, 3 times that."
        )
        found.append(Advice("I09", words, section, broken=True))
    if _is_long_bond(setting) and joint < RUNNING_BOND_JOINT - _DUST:
        words = "Rectified tile over 15 in long in running bond needs joints of 1/8 in on average at least."
        found.append(Advice("I10", words, _A108_02, broken=True))
    return found


def _flatness(setting: Setting) -> list[Advice]:
    wanted = flatness_of(setting)
    is_large = wanted.over == 24.0
    edges = "An edge is 15 in or longer" if is_large else "All edges are below 15 in"
    words = (
        f"{edges}: the surface may be out of flat by {in_inches(wanted.long)} in 10 ft and "
        f"{in_inches(wanted.short)} in {wanted.over:.0f} in at most."
    )
    return [
        Advice(
            "I05" if is_large else "I04", words, "ANSI A108.01, A108.02" if is_large else "ANSI A108 series"
        ),
        Advice(
            "I07", "Flatten it before: setting mortar may not be used for that.", "trade press on ANSI A108"
        ),
    ]


def _contact(*, wet: bool) -> list[Advice]:
    place = "Wet area" if wet else "Dry area"
    words = f"{place}: mortar must touch at least {least_contact(wet=wet)} % of each tile's back."
    return [
        Advice("I02" if wet else "I01", words, "ANSI A108.5, section 2.2.3"),
        Advice("I03", "Lift 3 tiles to see how much mortar touches.", "ANSI A108.5 (2005), section 3.3.2"),
    ]


def _lippage(setting: Setting) -> Advice:
    rule = "I14" if setting.joint < 1 / 4 - _DUST else "I15"
    words = (
        f"With a joint of {in_inches(setting.joint)} neighbouring tiles may stand proud by "
        f"{in_inches(lippage_allowed(setting.joint))} and the warpage of the tile at most."
    )
    return Advice(rule, words, f"{_A108_02}, section 4.3.7")


def _movement(surface: Surface, *, sunny: bool, wet: bool) -> list[Advice]:
    soft = "Leave a soft joint at every inside change of plane and where tile meets walls, tubs and posts."
    found = [Advice("I21", soft, f"TCNA Handbook EJ171; {_A108_02}, sections 4.4.1 and 4.4.2")]
    exposed = sunny or wet or is_wet(surface)
    spacing = movement_spacing(exposed=exposed)
    across, up = (joints_across(length, spacing) for length in extent_of(surface))
    if across or up:
        words = (
            f"Longer than {spacing / 12:.0f} ft{' in sun or moisture' if exposed else ''}: "
            f"{across + up} movement joint{'s' * (across + up != 1)} in the field."
        )
        found.append(Advice("I19" if exposed else "I17", words, "TCNA Handbook EJ171 (2018)"))
    return found


def extent_of(surface: Surface) -> tuple[float, float]:
    """Width and height of the box around a surface, inches."""
    across, up = zip(*surface.outline, strict=True)
    return max(across) - min(across), max(up) - min(up)
