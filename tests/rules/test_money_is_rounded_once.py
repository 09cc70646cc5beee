"""Money is rounded in one module; what else rounds is listed here with its reason."""

import ast

from tests.rules.tree import ROOT, python_files

MAY_ROUND = {
    "quoting/engine/pricing/money.py": "the one place where money is rounded",
    "labour/engine/units.py": "the one place where measured quantities are rounded",
    "labour/engine/figures.py": "hours, to the hundredth",
    "labour/engine/metric.py": "rates of a metric rate book, to the thousandth",
    "labour/engine/amounts.py": "whole pieces in template expressions: noise of a division is cut off first",
    "labour/engine/expressions.py": "quantities shown in a worked expression",
    "quoting/engine/materials/packs.py": "amounts of material: noise of a division must not buy a pack",
    "quoting/engine/firm_view.py": "amounts and leftovers of material, as shown",
    "quoting/documents/filters.py": "quantities, as shown",
    "quoting/engine/layout/counting.py": "sizes of tiles, to tell one tile from another; tiles on a sheet",
    "quoting/engine/layout/period.py": "distances of starts, so that equal ones stay equal",
    "quoting/engine/layout/sheets.py": "how many small tiles stand along a sheet",
    "quoting/engine/taking_off/tiles.py": "shares of a tile: a crumb of a division must not buy a box",
    "quoting/measure/drawn.py": "places on a drawing",
    "quoting/engine/layout/patterns.py": "how many small tiles stand beside a large one",
    "quoting/engine/drawing/dimensions.py": "places on a drawing",
    "quoting/engine/drawing/elevation.py": "places on a drawing",
    "quoting/engine/drawing/layout.py": "places on a drawing",
    "quoting/engine/drawing/setting_out.py": "heights of courses, to tell one from another",
    "quoting/engine/drawing/view.py": "places on a drawing",
}


def roundings_in(source: str) -> list[int]:
    """Lines that call .quantize() or round(); one inside a comparison only checks the decimals given."""
    tree = ast.parse(source)
    compared = {
        id(part) for node in ast.walk(tree) if isinstance(node, ast.Compare) for part in ast.walk(node)
    }
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call) and id(node) not in compared]
    return [
        call.lineno
        for call in calls
        if (isinstance(call.func, ast.Attribute) and call.func.attr == "quantize")
        or (isinstance(call.func, ast.Name) and call.func.id == "round")
    ]


def test_only_the_listed_modules_round() -> None:
    files = [file for file in python_files("labour", "quoting") if file.as_posix() not in MAY_ROUND]

    found = [f"{file}:{line}" for file in files for line in roundings_in((ROOT / file).read_text())]

    assert not found, "These round on their own:\n" + "\n".join(found)


def test_every_listed_module_still_rounds() -> None:
    idle = [name for name in MAY_ROUND if not roundings_in((ROOT / name).read_text())]

    assert not idle, f"Take these out of the list: {idle}"


def test_a_rounding_elsewhere_is_caught() -> None:
    assert roundings_in("x = 1\nprice = amount.quantize(CENT)\n") == [2]
    assert roundings_in("price = round(amount, 2)\n") == [1]
    assert roundings_in("price = to_cents(amount)\n") == []


def test_a_check_of_decimals_is_not_a_rounding() -> None:
    assert roundings_in("if value != round(value, 2):\n    refuse()\n") == []
