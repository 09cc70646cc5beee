"""Opening a firm for business: the shipped rate book, materials, templates and starting prices."""

from datetime import datetime
from pathlib import Path

from django.conf import settings
from django.db import transaction

from labour.engine.metric import in_metric
from labour.firm.models import Firm, Units, User
from labour.firm.services import finish_set_up
from labour.plan.reading import read_templates
from labour.plan.services import load_templates
from labour.ratebook.reading import read_rate_book
from labour.ratebook.services import load_rate_book
from quoting.catalogue.reading import read_catalogue
from quoting.catalogue.services import load_catalogue
from quoting.price.services import start_price_settings

FIXTURES: Path = settings.BASE_DIR / "fixtures"


@transaction.atomic
def open_firm(*, firm: Firm, by: User | None, at: datetime) -> None:
    """Give a new firm its books, then call it set up. Called again it adds only what is missing."""
    tasks = read_rate_book(FIXTURES / "ratebook")
    if firm.units == Units.METRIC:
        tasks = tuple(in_metric(task) for task in tasks)
    materials, rules = read_catalogue(FIXTURES / "materials")
    load_rate_book(firm=firm, tasks=tasks)
    load_catalogue(firm=firm, materials=materials, rules=rules)
    load_templates(
        firm=firm,
        templates=read_templates(FIXTURES / "scopes"),
        items={material.code for material in materials},
        tasks={task.code: task for task in tasks},
    )
    start_price_settings(firm=firm)
    finish_set_up(firm=firm, by=by, at=at)
