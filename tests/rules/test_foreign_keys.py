"""A foreign key points to its own step or an earlier one, also when it is given as text."""

from collections.abc import Iterable

from django.apps import apps

from tests.rules.tree import APPS, step_order

type Link = tuple[str, str, str]


def links_of_models() -> list[Link]:
    """(field, module of its model, module of what it points to) for every relation of ours."""
    links = []
    for app in APPS:
        for model in apps.get_app_config(app).get_models():
            for field in model._meta.get_fields(include_hidden=True):
                target = field.related_model
                if field.is_relation and not field.auto_created and isinstance(target, type):
                    links.append((f"{model.__name__}.{field.name}", model.__module__, target.__module__))
    return [link for link in links if link[2].split(".")[0] in APPS]


def step_of(module: str) -> str:
    """ "labour.firm" for "labour.firm.models"."""
    return ".".join(module.split(".")[:2])


def wrong_links(links: Iterable[Link], order: list[set[str]]) -> list[str]:
    """Links that point to a later step, to one beside it, or to a step that the contracts do not know."""
    place = {step: number for number, steps in enumerate(order) for step in steps}
    found = []
    for name, module, target_module in links:
        here, there = step_of(module), step_of(target_module)
        unknown = [step for step in (here, there) if step not in place]
        if unknown:
            found.append(f"{name}: pyproject.toml does not order the step {unknown[0]}.")
        elif here != there and place[there] >= place[here]:
            found.append(f"{name}: {here} points to {there}, which is not an earlier step.")
    return found


def test_foreign_keys_point_to_the_same_or_an_earlier_step() -> None:
    links = links_of_models()

    assert ("Site.client", "quoting.clients.models", "quoting.clients.models") in links
    assert not wrong_links(links, step_order())


def test_the_order_is_read_from_the_import_contracts() -> None:
    order = step_order()

    assert order[0] == {"labour.engine"}
    assert order.index({"labour.firm"}) < order.index({"labour.plan"}) < order.index({"quoting.offer"})
    assert {"quoting.clients", "quoting.catalogue"} in order


def test_a_link_to_a_later_step_is_caught() -> None:
    links = [("Task.quote", "labour.ratebook.models", "quoting.offer.models")]

    assert wrong_links(links, step_order()) == [
        "Task.quote: labour.ratebook points to quoting.offer, which is not an earlier step."
    ]


def test_a_link_to_a_step_beside_it_or_to_an_unknown_step_is_caught() -> None:
    beside = ("Client.material", "quoting.clients.models", "quoting.catalogue.models")
    unknown = ("Quote.thing", "quoting.offer.models", "quoting.elsewhere.models")
    back = ("Quote.survey", "quoting.offer.models", "quoting.measure.models")

    assert len(wrong_links([beside, unknown], step_order())) == 2
    assert not wrong_links([back], step_order())
