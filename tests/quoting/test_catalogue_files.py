"""The shipped price list and rules, and reading such files."""

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from django.conf import settings

from labour.engine.scope import LineKind
from labour.ratebook.reading import read_rate_book
from quoting.catalogue.reading import BadFile, read_catalogue, read_materials, read_rules
from quoting.engine.materials.rule_checks import check_rule, check_unit
from quoting.engine.materials.values import RuleKind
from tests.labour.shipped import TEMPLATES

FIXTURES = Path(settings.BASE_DIR) / "fixtures"
RULE = '[[rule]]\ntask = "t"\nmaterial = "m"\nsource = "s"\n'


def written(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path


def test_every_shipped_rule_names_a_shipped_task_and_material_and_can_be_worked_out() -> None:
    materials, rules = read_catalogue(FIXTURES / "materials")
    by_code = {material.code: material for material in materials}
    tasks = {task.code for task in read_rate_book(FIXTURES / "ratebook")}

    assert {rule.task_code for rule in rules} <= tasks
    assert {rule.material_code for rule in rules} <= by_code.keys()
    assert [problem for rule in rules for problem in check_rule(rule)] == []
    assert [problem for rule in rules for problem in check_unit(rule, by_code[rule.material_code])] == []


def test_the_shipped_price_list_is_whole() -> None:
    materials, _ = read_catalogue(FIXTURES / "materials")
    codes = {material.code for material in materials}

    assert len(materials) >= 100
    assert {"dumpster-10yd", "debris-bag", "permit-building", "asbestos-test", "lead-test-kit"} <= codes
    assert all(m.price and m.priced_on == date(2026, 10, 1) and m.supplier for m in materials)


def test_every_shipped_material_is_used_by_a_rule_or_stands_in_a_template() -> None:
    materials, rules = read_catalogue(FIXTURES / "materials")
    items = {line.code for template in TEMPLATES for line in template.lines if line.kind is LineKind.ITEM}

    assert {material.code for material in materials} == {rule.material_code for rule in rules} | items


def test_a_shower_floor_is_grouted_by_its_own_tile_and_not_by_the_tile_of_the_room() -> None:
    _, rules = read_catalogue(FIXTURES / "materials")
    shower = [r for r in rules if r.task_code == "grout-cement-shower" and r.kind is RuleKind.GROUT]

    assert [rule.when.split("'")[1] for rule in shower] == ["mosaic-sheet", "penny-round", "small"]
    assert all(rule.when.startswith("shower_floor_tile ==") for rule in shower)


def test_every_setting_task_of_tile_uses_tile_and_mortar() -> None:
    _, rules = read_catalogue(FIXTURES / "materials")
    used: dict[str, set[str]] = {}
    for rule in rules:
        used.setdefault(rule.task_code, set()).add(rule.material_code)

    for code in (code for code in used if code.startswith(("tile-floor-", "tile-wall-"))):
        assert any(material.startswith(code.rsplit("-", 1)[0][5:]) for material in used[code]), code
        assert any(material.startswith("thinset") for material in used[code]), code


def test_a_file_says_what_its_entries_leave_out(tmp_path: Path) -> None:
    path = written(
        tmp_path,
        "shop.toml",
        'supplier = "tile shop"\npriced_on = "2026-10-01"\n[[material]]\ncode = "bag"\nname = "Bag"\n'
        'category = "material"\ncontent_unit = "lb"\npack_name = "bag"\npack_size = 12.5\nprice = 9.10\n',
    )

    (material,) = read_materials([path])

    assert (material.supplier, material.priced_on) == ("tile shop", date(2026, 10, 1))
    assert (material.pack_size, material.price) == (Decimal("12.5"), Decimal("9.10"))


def test_a_bad_price_list_names_file_code_and_field(tmp_path: Path) -> None:
    path = written(
        tmp_path,
        "shop.toml",
        '[[material]]\ncode = "bag"\nname = "Bag"\ncategory = "labour"\ncontent_unit = "lb"\npack_name = ""\n'
        'pack_size = 0\nprice = -1\npriced_on = "soon"\ncolour = "grey"\n',
    )

    with pytest.raises(BadFile) as refused:
        read_materials([path])

    fields = {problem.field for problem in refused.value.problems}
    wrong = ("category", "pack_name", "pack_size", "price", "priced_on", "colour")
    assert fields == {f"shop.toml, bag, {name}" for name in wrong}


def test_a_code_may_come_only_once(tmp_path: Path) -> None:
    entry = (
        '[[material]]\ncode = "bag"\nname = "Bag"\ncategory = "material"\n'
        'content_unit = "lb"\npack_name = "bag"\npack_size = 1\n'
    )

    with pytest.raises(BadFile, match=r"shop\.toml, bag, code: is there twice"):
        read_materials([written(tmp_path, "shop.toml", entry * 2)])


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[[rule]\n", "rules-a.toml: cannot be read"),
        ("rule = 3\n", "must be written as [[rule]] entries"),
        (RULE + 'kind = "guess"\n', "rule 1 (t), kind: must be one of"),
        (RULE + 'kind = "sheet"\n', "sheet_area: is missing"),
        (RULE + 'kind = "each"\nvalues = 3\n', "values: must be"),
    ],
)
def test_a_bad_rule_file_says_where_and_what(tmp_path: Path, text: str, said: str) -> None:
    with pytest.raises(BadFile) as refused:
        read_rules([written(tmp_path, "rules-a.toml", text)])

    assert said in str(refused.value)


def test_a_folder_without_files_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BadFile, match=r"has no \.toml files"):
        read_catalogue(tmp_path)
