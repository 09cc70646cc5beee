"""Keeping measured rooms: the only way to do it, for pages, API and commands."""

from datetime import date

from django.db import transaction

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm
from quoting.clients.models import Site
from quoting.engine.measure.rooms_file import RoomsFile
from quoting.measure.models import RoomRow, Survey


class CannotSaveSurvey(Refusal):
    """The rooms can not be kept for this site."""


@transaction.atomic
def save_survey(*, firm: Firm, site: Site, rooms_file: RoomsFile, on: date) -> Survey:
    """Keep the rooms as they were typed. on: the day of measuring. Refuses another firm's site."""
    if site.firm_id != firm.pk:
        raise CannotSaveSurvey(Problem("site", "Choose a site of your own firm."))
    survey = Survey.objects.create(firm=firm, site=site, measured_on=on)
    _write_rooms(survey, rooms_file)
    return survey


@transaction.atomic
def replace_rooms(*, survey: Survey, rooms_file: RoomsFile) -> Survey:
    """Put other rooms in the place of a survey's rooms."""
    kept: Survey = Survey.objects.select_for_update().get(pk=survey.pk)
    kept.rooms.all().delete()
    _write_rooms(kept, rooms_file)
    return kept


def _write_rooms(survey: Survey, rooms_file: RoomsFile) -> None:
    RoomRow.objects.bulk_create(
        RoomRow(survey=survey, position=place, name=room.name, definition=definition)
        for place, (room, definition) in enumerate(rooms_file.rooms)
    )
