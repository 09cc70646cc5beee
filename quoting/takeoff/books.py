"""The books of a takeoff: a firm's, or the starting books that every new firm gets."""

from pathlib import Path

from django.conf import settings

from labour.firm.models import Firm
from labour.ratebook.queries import get_rate_book
from labour.ratebook.reading import read_rate_book
from quoting.catalogue.queries import get_catalogue
from quoting.catalogue.reading import read_catalogue
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.materials.values import ConsumptionRule
from quoting.engine.takeoff import TakeoffBooks


def get_takeoff_books(firm: Firm) -> TakeoffBooks:
    """The firm's tasks, materials and rules."""
    return TakeoffBooks(get_rate_book(firm), get_catalogue(firm))


def read_starting_books() -> TakeoffBooks:
    """What comes with the service, read from its files; no database is asked."""
    folder: Path = settings.BASE_DIR / "fixtures"
    materials, rules = read_catalogue(folder / "materials")
    by_task: dict[str, tuple[ConsumptionRule, ...]] = {}
    for rule in rules:
        by_task[rule.task_code] = (*by_task.get(rule.task_code, ()), rule)
    catalogue = Catalogue({material.code: material for material in materials}, by_task)
    return TakeoffBooks({task.code: task for task in read_rate_book()}, catalogue)
