"""Changes by hand: they stay with a room that is renamed."""

from quoting.measure.form_paths import clashes_in
from quoting.offer.changes import follow_renames

BY_HAND = {
    "quantities": {"Hall bath/set-toilet": "2", "Attic/set-toilet": "1"},
    "left_out": ["Hall bath/demo-tub"],
    "added": [{"room": "Hall bath", "task": "set-mirror", "quantity": "1"}],
}


def test_a_renamed_room_keeps_what_was_changed_by_hand():
    kept = follow_renames(BY_HAND, ["Hall bath", "Attic"], ["Upstairs bath", "Attic"])

    assert kept["quantities"] == {"Upstairs bath/set-toilet": "2", "Attic/set-toilet": "1"}
    assert kept["left_out"] == ["Upstairs bath/demo-tub"]
    assert kept["added"][0]["room"] == "Upstairs bath"


def test_rooms_that_change_places_keep_their_own_changes():
    assert follow_renames(BY_HAND, ["Hall bath", "Attic"], ["Attic", "Hall bath"]) == BY_HAND


def test_nothing_is_guessed_when_a_room_was_taken_away():
    assert follow_renames(BY_HAND, ["Hall bath", "Attic"], ["Bath"]) == BY_HAND


def test_a_height_and_a_slope_together_are_named():
    posted = {"rooms[0].ceiling": ["8'"], "rooms[0].ceiling.low": ["7'"], "rooms[0].name": ["Bath"]}

    assert clashes_in(posted) == ["rooms[0].ceiling"]


def test_a_chosen_site_and_the_address_of_a_new_one_are_no_clash():
    assert clashes_in({"site": ["1"], "site.address": ["3 Tannery Court"]}) == []


def test_empty_parts_are_no_clash():
    assert clashes_in({"rooms[0].ceiling": ["8'"], "rooms[0].ceiling.low": [" "]}) == []
