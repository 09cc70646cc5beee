"""Measured rooms are kept as they were typed and read back with the house as it stands."""

from datetime import date

import pytest
from django.http import Http404

from labour.firm.models import Firm
from quoting.clients.models import Site
from quoting.engine.measure.room import House
from quoting.engine.measure.rooms_file import RoomsFile, read_rooms
from quoting.measure.models import RoomRow, Survey
from quoting.measure.queries import get_house, get_rooms, get_survey
from quoting.measure.services import CannotSaveSurvey, replace_rooms, save_survey
from tests.makers import make_firm, make_site
from tests.quoting.room_makers import make_bath, make_document, make_room

pytestmark = pytest.mark.django_db
ON = date(2026, 10, 28)


def read(*names: str, units: str = "us") -> RoomsFile:
    """A rooms file of baths with these names."""
    return read_rooms(make_document(*(make_bath(name=name) for name in names), units=units))


@pytest.fixture
def site() -> Site:
    return make_site(make_firm(), year_built=1950)


def test_rooms_come_back_as_they_were_typed_and_in_order(site: Site) -> None:
    rooms_file = read("Hall bath", "Attic bath")

    survey = save_survey(firm=site.firm, site=site, rooms_file=rooms_file, on=ON)

    back = get_rooms(get_survey(site.firm, survey.pk))
    assert back.rooms == rooms_file.rooms
    assert survey.measured_on == ON


def test_plain_numbers_come_back_in_the_unit_they_were_written_in(site: Site) -> None:
    room = make_room(outline={"width": 1524, "length": 2438}, ceiling=2440)
    rooms_file = read_rooms(make_document(room, units="metric"))

    survey = save_survey(firm=site.firm, site=site, rooms_file=rooms_file, on=ON)

    assert get_rooms(survey).rooms[0][0].ceiling.low.mm == 2440


def test_the_house_is_read_from_the_site(site: Site) -> None:
    site.is_occupied, site.storeys_to_carry = False, 2

    survey = save_survey(firm=site.firm, site=site, rooms_file=read("Bath"), on=ON)

    assert get_house(site) == get_rooms(survey).house == House(1950, occupied=False, storeys_to_carry=2)


def test_replaced_rooms_are_gone(site: Site) -> None:
    survey = save_survey(firm=site.firm, site=site, rooms_file=read("One", "Two"), on=ON)

    replace_rooms(survey=survey, rooms_file=read("Two", "Three"))

    assert [room.name for room, _ in get_rooms(survey).rooms] == ["Two", "Three"]
    assert RoomRow.objects.count() == 2


def test_another_firms_site_is_refused(site: Site) -> None:
    stranger: Firm = make_firm("Other Baths")

    with pytest.raises(CannotSaveSurvey):
        save_survey(firm=stranger, site=site, rooms_file=read("Bath"), on=ON)

    assert not Survey.objects.exists()


def test_another_firms_survey_does_not_exist_for_you(site: Site) -> None:
    survey = save_survey(firm=site.firm, site=site, rooms_file=read("Bath"), on=ON)

    with pytest.raises(Http404):
        get_survey(make_firm("Other Baths"), survey.pk)
