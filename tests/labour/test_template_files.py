"""Reading of template files: parts, order, and refusals that name file and line."""

from pathlib import Path

import pytest

from labour.engine.scope import LineKind
from labour.plan.reading import BadTemplateFile, read_template


def write_files(folder: Path, **files: str) -> Path:
    (folder / "parts").mkdir()
    for name, text in files.items():
        place = folder / "parts" if name.startswith("part") else folder
        (place / f"{name.replace('_', '-')}.toml").write_text(text)
    return folder / "bath.toml"


HEAD = 'name = "Bath"\nsummary = "A bath"\n'
TOILET = '[[line]]\ntask = "set-toilet"\nquantity = "toilet_count"\n'


def problems_in(file: Path) -> list[str]:
    with pytest.raises(BadTemplateFile) as caught:
        read_template(file)
    return [str(problem) for problem in caught.value.problems]


def test_lines_of_parts_come_first_and_once(tmp_path):
    file = write_files(
        tmp_path,
        part_a='include = ["part-b"]\n' + TOILET,
        part_b='exclusions = ["Gold"]\n[[line]]\nitem = "debris-bag"\nquantity = "1"\n',
        bath=HEAD + 'include = ["part-a", "part-b"]\nexclusions = ["Silver"]\n'
        '[[line]]\nunit_price = "repair-subfloor"\nquantity = "sq_ft(6)"\nwhen = "old_house"\n',
    )

    template = read_template(file)

    assert [(line.key, line.kind) for line in template.lines] == [
        ("001-debris-bag", LineKind.ITEM),
        ("002-set-toilet", LineKind.TASK),
        ("003-repair-subfloor", LineKind.UNIT_PRICE),
    ]
    assert template.exclusions == ("Gold", "Silver")


def test_a_bad_expression_is_named_with_file_line_and_part(tmp_path):
    file = write_files(tmp_path, bath=HEAD + TOILET + TOILET.replace("toilet_count", "toilet_cuont"))

    said = "“toilet_cuont”: toilet_cuont is not a known name; did you mean toilet_count?"
    assert problems_in(file) == [f"bath.toml line 6 quantity: {said}"]


def test_an_unknown_part_is_named_with_the_known_ones(tmp_path):
    file = write_files(tmp_path, part_tub=TOILET, bath=HEAD + 'include = ["part-tob"]\n')

    assert "bath.toml: includes part-tob, which is not a part; parts: part-tub" in problems_in(file)


def test_a_part_outside_the_folder_of_parts_is_not_read(tmp_path):
    file = write_files(tmp_path, other=HEAD + TOILET, bath=HEAD + 'include = ["../other"]\n')

    assert problems_in(file)[0].startswith("bath.toml: includes ../other, which is not a part")


def test_parts_that_include_each_other_are_refused(tmp_path):
    file = write_files(
        tmp_path,
        part_a='include = ["part-b"]\n',
        part_b='include = ["part-a"]\n',
        bath=HEAD + 'include = ["part-a"]\n' + TOILET,
    )

    assert problems_in(file) == [
        "part-b.toml: parts include each other in a circle: part-a → part-b → part-a"
    ]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("name = ", "bath.toml: is not readable as TOML"),
        ('name = "Bath"\n' + TOILET, 'bath.toml: needs summary = "…"'),
        (HEAD, "bath.toml: has no lines"),
        (HEAD + "colour = 3\n" + TOILET, "bath.toml: colour is not known here"),
        (HEAD + "exclusions = 3\n" + TOILET, "bath.toml: exclusions must be a list of texts"),
        (HEAD + '[[line]]\ntask = "a"\n', "bath.toml line 3: needs one of task, item, unit_price"),
        (HEAD + '[[line]]\ntask = "a"\nitem = "b"\nquantity = "1"\n', "bath.toml line 3: needs one of"),
        (HEAD + '[[line]]\ntask = "a"\nquantity = 1\n', "bath.toml line 3: needs texts"),
        (HEAD + 'line = [{task = "a", quantity = "1"}]\n', "bath.toml: write every line as a [[line]]"),
    ],
)
def test_a_file_that_is_no_template_is_refused_with_its_reason(tmp_path, text, said):
    assert any(said in problem for problem in problems_in(write_files(tmp_path, bath=text)))


def test_a_line_names_the_options_that_take_its_place(tmp_path):
    epoxy, stone = 'option = "Epoxy"\n', 'option = "Stone"\n'
    file = write_files(
        tmp_path, bath=HEAD + TOILET + 'unless = "Epoxy; Stone"\n' + TOILET + epoxy + TOILET + stone
    )

    lines = read_template(file).lines

    assert [line.replaced_by for line in lines] == [("Epoxy", "Stone"), (), ()]
    assert [line.option for line in lines] == ["", "Epoxy", "Stone"]
