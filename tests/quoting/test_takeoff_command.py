"""./run manage takeoff: a hand-worked room, its table, JSON, drawings and setting-out sheet; bad input.

The room is 5 × 8 ft with tile of 12 in, joints and free edges of 1/8 in. Across 59.75 in: with a tile in the
middle (59.75 − 12) ÷ 2 = 23.875 = 1/8 + 12 + 1/8 + 11 5/8, so 3 whole tiles and 11 5/8 at both ends (a joint
in the middle would leave 5 9/16, under half a tile). Up 95.75 in: with a joint in the middle
(95.75 − 1/8) ÷ 2 = 47.8125 = 3 × 12 1/8 + 11 7/16, so 6 whole and 11 7/16 at both ends (a tile in the middle
would leave 5 3/8).
"""

import json
from io import StringIO
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from django.core.management import CommandError, call_command

from tests.quoting.room_makers import make_bath, make_document
from tests.reading import pdf_text
from tests.takeoff_makers import make_floor

KEYS = {
    "format", "wish", "attic_percent", "rooms", "tiles", "materials", "hours", "hours_note", "cautions",
    "general_caution", "notes",
}  # fmt: skip


@pytest.fixture
def write(tmp_path: Path):
    """Writes a document into a file."""

    def into(document: object, name: str = "rooms.json") -> Path:
        file = tmp_path / name
        file.write_text(json.dumps(document), encoding="utf-8")
        return file

    return into


def run(*args: Any, **options: Any) -> str:
    """What the command says."""
    said = StringIO()
    call_command("takeoff", *args, stdout=said, **options)
    return said.getvalue()


def counted(rooms: Path, tmp_path: Path, **options: Any) -> dict[str, Any]:
    """The document that the command writes."""
    file = tmp_path / "takeoff.json"
    run(rooms, json=file, **options)
    document: dict[str, Any] = json.loads(file.read_text(encoding="utf-8"))
    return document


def test_the_hand_worked_floor_has_its_cuts_courses_and_boxes(write, tmp_path):
    document = counted(write(make_document(make_floor())), tmp_path)

    floor = document["rooms"][0]["surfaces"][0]
    layout = floor["layout"]
    # 3 × 6 = 18 whole; 5 × 8 − 18 = 22 cut, all straight; more than half a tile each, so 40 tiles.
    assert layout["pieces"] == {"whole": 18, "straight": 22}
    assert layout["tiles_needed"] == 40
    assert (document["tiles"][0]["boxes"], document["tiles"][0]["tiles_to_buy"]) == (4, 48)
    # 12 pieces × 12 at the sides, 6 × 12 at the ends, 4 corners × (11.625 + 11.4375) = 308.25 in.
    assert layout["cut_length_in"] == "308.25"
    # (3 × 12 + 2 × 11.625) × (6 × 12 + 2 × 11.4375) = 59.25 × 94.875 of 40 × 144 sq in: 2.4 % waste.
    assert layout["waste_percent"] == "2.4"
    ends = layout["first_cuts"]
    assert [(end["left"]["text"], end["right"]["text"]) for end in ends] == [('11 5/8"', '11 5/8"')]
    # The lowest course: 1/8 free + 11 7/16; a joint of 1/8; then full tile.
    assert layout["courses"][0]["height"]["text"] == '11 7/16"'
    assert layout["courses"][0]["top"]["in"] == "11.5625"
    assert layout["full_tile_line"] == {"in": "11.6875", "text": '11 11/16"'}
    assert len(layout["courses"]) == 8
    assert floor["trowel"] == "1/4 × 3/8 in square notch"


def test_the_document_has_its_keys_and_every_figure_its_why(write, tmp_path):
    document = counted(write(make_document()), tmp_path)

    assert set(document) == KEYS
    room = document["rooms"][0]
    whys = [one["why"] for one in [*room["quantities"], *document["materials"]]]
    whys += [use["why"] for one in document["materials"] for use in one["uses"]]
    whys += [one["cuts_why"] for one in document["hours"]]
    assert all(why["formula"] and why["worked"] for why in whys)
    assert all(advice["source"] for surface in room["surfaces"] for advice in surface["advice"])


def test_the_table_names_room_tiles_materials_and_cautions(write):
    said = run(write(make_document(make_floor())))

    assert "48 tiles in 4 boxes of 12; 40 needed, waste 2.4 %" in said
    assert '  first cuts left and right: 11 5/8" and 11 5/8"' in said
    assert "2 × 50 lb bag" in said
    assert "Silica dust." in said


def test_every_plan_elevation_and_layout_is_one_well_formed_drawing(write, tmp_path):
    folder = tmp_path / "drawings" / "of the bath"
    room = make_bath(finishes={"floor_tile": "medium", "wall_tile": "medium"})

    run(write(make_document(room)), svg=folder)

    names = {file.stem for file in folder.iterdir()}
    assert {"room-1-bath-plan", "room-1-bath-elevation-a", "room-1-bath-elevation-d"} <= names
    assert {
        "room-1-bath-layout-floor",
        "room-1-bath-layout-wall-c",
        "room-1-bath-layout-niche-1-back",
    } <= names
    for file in folder.iterdir():
        root = ElementTree.fromstring(file.read_text(encoding="utf-8"))
        assert root.tag == "{http://www.w3.org/2000/svg}svg"
        assert root[0].text
        assert root[1].text


def test_a_metric_room_counts_the_same_tiles_and_speaks_millimetres(write, tmp_path):
    room = make_floor("1524", "2438.4") | {"ceiling": "2400"}
    room["outline"] = {"width": 1524, "length": "2438.4 mm"}
    document = counted(write(make_document(room | {"ceiling": 2400}, units="metric")), tmp_path)

    assert document["tiles"][0]["tiles_needed"] == 40
    room = document["rooms"][0]
    area = next(one for one in room["quantities"] if one["name"] == "floor_area")
    assert (area["value"], area["unit"]) == ("3.72", "m²")
    assert room["surfaces"][0]["layout"]["first_cuts"][0]["left"]["text"] == "295 mm"


def test_depths_are_read_in_words_and_level_the_floor(write, tmp_path):
    depths = [{"x": x, "y": y, "depth": "1/2 in"} for x in (0, 5) for y in (0, 8)]

    document = counted(write(make_document(make_floor() | {"depths": depths})), tmp_path)

    # 40 sq ft × 0.5 ÷ 12 × 110 lb = 183.3333 lb, + 10 % = 201.6667 lb → 5 bags of 50 lb.
    leveller = next(one for one in document["materials"] if one["code"] == "self-leveller")
    assert (leveller["quantity"], leveller["packs"]) == ("201.6667", 5)


@pytest.mark.slow
def test_the_setting_out_sheet_has_cuts_trowel_and_cure_and_no_price(write, tmp_path):
    file = tmp_path / "sheet.pdf"

    run(write(make_document(make_floor() | {"name": "Bath <b> & 🛁"})), pdf=file)

    text = pdf_text(file.read_bytes())
    for words in (
        "Setting-out sheet",
        "Bath <b> & ?",
        '11 5/8"',
        '11 11/16"',
        "square notch",
        "Cure, hours",
        "Silica dust",
    ):
        assert words in text
    assert "$" not in text


@pytest.mark.parametrize(
    ("fields", "named"),
    [
        (
            {"openings": [{"kind": "door", "wall": "F", "width": "30 in", "height": "80 in"}]},
            "openings[0].wall",
        ),
        ({"openings": [{"kind": "door", "wall": "A", "width": "9'", "height": "80 in"}]}, "openings[0]"),
        ({"ceiling": "a lot"}, "ceiling"),
    ],
)
def test_bad_rooms_name_the_wall_or_opening(write, fields, named):
    file = write(make_document(make_floor() | fields))

    with pytest.raises(CommandError, match=r"rooms\[0\]") as refused:
        run(file)

    assert f"rooms[0].{named}" in str(refused.value)


def test_bad_depths_and_layouts_name_room_and_row(write):
    depths = [{"x": "1'", "y": "deep", "depth": "1/2 in"}, 7]
    layouts = [{"surface": "floor", "joint": "thin"}]

    with pytest.raises(CommandError) as refused:
        run(write(make_document(make_floor() | {"depths": depths, "layouts": layouts})))

    for named in ("rooms[0].depths[0].y: ", "rooms[0].depths[1]: ", "rooms[0].layouts[0].joint: "):
        assert named in str(refused.value)


def test_a_layout_of_the_file_is_laid_and_one_without_its_surface_is_pointed_at(write, tmp_path):
    chosen = {"surface": "floor", "pattern": "diagonal", "start_x": "1'", "start_y": "1'"}
    room = make_floor() | {"layouts": [chosen, {"surface": "wall-d", "wish": "centred"}]}
    said = run(write(make_document(room)))

    floor = counted(write(make_document(room)), tmp_path)["rooms"][0]["surfaces"][0]

    assert (floor["layout"]["pattern"], floor["layout"]["start_in"]) == ("diagonal", ["12", "12"])
    assert "Bath: the layout kept for “wall-d” is not used; there is no such surface." in said


def test_a_file_that_is_not_there_and_a_share_that_is_none_are_refused(write, tmp_path):
    with pytest.raises(CommandError, match=r"missing\.json"):
        run(tmp_path / "missing.json")
    with pytest.raises(CommandError, match="Attic stock"):
        run(write(make_document(make_floor())), attic=400)


@pytest.mark.django_db
@pytest.mark.slow
def test_an_unknown_firm_is_named(write):
    with pytest.raises(CommandError, match="There is no firm called “Nobody”"):
        run(write(make_document(make_floor())), firm="Nobody")
