"""A priced quote in few words: one toilet set in one room, its figures worked out by the engine."""

from decimal import Decimal
from typing import Any

from labour.engine.scope import LineKind, RoomFigures, ScopeLine, ScopeTemplate
from labour.engine.vocabulary import FACTS, QUANTITIES
from labour.engine.why import Why
from labour.ratebook.models import TaskRow
from quoting.clients.models import Site
from quoting.engine.estimate import Books, Changes, RoomScope, estimate
from quoting.engine.figures import figures_of
from quoting.engine.materials.catalogue import Catalogue
from quoting.engine.pricing.values import Category, CategoryRule, Discount, PricePolicy
from quoting.measure.models import RoomRow, Survey
from quoting.offer.models import Quote
from tests.makers import AT

ROOM = "Hall bath"
DEFINITION = {
    "name": ROOM,
    "outline": {"width": "5'", "length": "8'"},
    "ceiling": "8'",
    "finishes": {"floor_tile": "medium"},
}


def make_figures(task: TaskRow, labour_cost: str = "40.00") -> dict[str, Any]:
    """Figures of one room in which the task is done once; priced at cost."""
    nothing = {quantity.name: Decimal(0) for quantity in QUANTITIES}
    whys = {name: Why("not measured", "0") for name in nothing}
    facts = {name: values[0] for name, values in FACTS.items()}
    room = RoomFigures(ROOM, nothing, whys, facts, frozenset())
    line = ScopeLine("001", LineKind.TASK, task.code, "1")
    template = ScopeTemplate("new-toilet", "New toilet", "A toilet is set.", (line,))
    rules = {category: CategoryRule() for category in Category}
    policy = PricePolicy(rules, labour_cost=Decimal(labour_cost), labour_source="the crew")
    books = Books({task.code: task.to_engine()}, Catalogue(), policy)
    figures = figures_of(estimate([RoomScope(room, template)], books, Changes(), Discount()), year_built=None)
    payment = {"name": "At the end", "percent": "100", "amount": figures["client_view"]["total"]}
    figures["client_view"]["milestones"] = [payment]
    return figures | {"notes": []}


def make_quote(
    site: Site, task: TaskRow, title: str = "Hall bath", number: str = "Q-0001", template: str = "new-toilet"
) -> Quote:
    """A draft for the site. template: slug of the firm's template that it says it follows."""
    survey = Survey.objects.create(firm=site.firm, site=site, measured_on=AT.date())
    RoomRow.objects.create(survey=survey, position=1, name=ROOM, definition=DEFINITION)
    figures = make_figures(task)
    return Quote.objects.create(
        firm=site.firm,
        number=number,
        title=title,
        survey=survey,
        scope={"template": template, "rooms": {}, "options": []},
        figures=figures,
        total=Decimal(figures["client_view"]["total"]),
        created_at=AT,
        priced_at=AT,
    )
