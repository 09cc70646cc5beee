"""How surfaces are usually tiled when nobody said how."""

import tomllib
from itertools import product

import pytest

from quoting.engine.layout.usual import setting_for, tile_class
from quoting.engine.layout.values import Pattern, SurfaceKind
from tests.rules.tree import ROOT

FACTS = {
    "floor_tile": SurfaceKind.FLOOR,
    "wall_tile": SurfaceKind.WALL,
    "shower_floor_tile": SurfaceKind.SHOWER_FLOOR,
}
TILE = tuple(FACTS)
SHEETS = ("mosaic-sheet", "penny-round", "glass-mosaic")


@pytest.mark.parametrize("kind", [SurfaceKind.FLOOR, SurfaceKind.WALL, SurfaceKind.SHOWER_FLOOR])
def test_no_tile_of_15_in_or_longer_is_usually_moved_by_more_than_a_third(kind: SurfaceKind) -> None:
    names = ("small", "medium", "large", "plank", "mosaic-sheet", "penny-round", "glass-mosaic", "stone")
    usual = [setting_for(dict.fromkeys(TILE, name), kind) for name in names]

    long = [s for s in usual if s and s.width >= 15 and s.pattern in (Pattern.OFFSET, Pattern.PLANK)]

    assert long and all(setting.offset <= 1 / 3 for setting in long)


def test_diagonal_turns_square_floor_tile_only() -> None:
    facts = {"floor_tile": "stone", "wall_tile": "stone"}

    floor = setting_for(facts, SurfaceKind.FLOOR, diagonal=True)
    wall = setting_for(facts, SurfaceKind.WALL, diagonal=True)

    assert floor and floor.pattern == Pattern.DIAGONAL
    assert wall and wall.pattern == Pattern.STACKED
    assert setting_for({"floor_tile": "none"}, SurfaceKind.FLOOR) is None


def test_niches_curbs_and_benches_get_the_tile_of_the_walls() -> None:
    facts = {"floor_tile": "large", "wall_tile": "small"}

    kinds = (SurfaceKind.NICHE, SurfaceKind.CURB, SurfaceKind.BENCH)
    assert {tile_class(facts, kind) for kind in kinds} == {"small"}


def test_faces_and_joints_are_those_that_the_shipped_grout_rules_take() -> None:
    rules = tomllib.loads((ROOT / "fixtures/materials/rules-grout-cement.toml").read_text())["rule"]
    sizes = {rule.get("when"): rule["values"] for rule in rules if "tile_length" in rule["values"]}
    checked = 0

    for (fact, kind), name in product(FACTS.items(), ("small", "medium", "large", "plank", "stone", *SHEETS)):
        values, setting = sizes.get(f"{fact} == '{name}'"), setting_for({fact: name}, kind)
        if values and setting:
            checked += 1
            assert setting.joint == values["joint"]
            if name not in SHEETS:
                assert (setting.width, setting.height) == (values["tile_length"], values["tile_width"])

    assert checked == 17
