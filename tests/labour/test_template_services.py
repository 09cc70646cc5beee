"""Loading, copying and changing a firm's templates, and reading them back."""

from dataclasses import replace

import pytest

from labour.engine.hours import PlannedWork
from labour.engine.scope import LineKind, ScopeLine
from labour.firm.models import AuditLine
from labour.plan.models import TemplateRow
from labour.plan.queries import UnknownTemplate, get_template, list_templates, plan_labour
from labour.plan.services import (
    CannotChangeTemplate,
    CannotCopyTemplate,
    CannotLoadTemplates,
    change_template_lines,
    copy_template,
    load_templates,
)
from tests.labour.shipped import BY_SLUG, ITEMS, TASKS, TEMPLATES, load_shipped
from tests.makers import AT, make_firm, make_member

pytestmark = pytest.mark.django_db


def test_loading_adds_what_is_missing_and_leaves_the_rest(django_assert_max_num_queries):
    firm = make_firm()

    with django_assert_max_num_queries(12):
        first = load_shipped(firm)
    TemplateRow.objects.of(firm).filter(slug="powder-room").update(name="Cloakroom")

    assert (first, load_shipped(firm)) == (len(TEMPLATES), 0)
    assert get_template(firm, "powder-room").name == "Cloakroom"
    assert get_template(firm, "tub-to-shower") == BY_SLUG["tub-to-shower"]


def test_loading_is_refused_with_all_problems_and_nothing_is_saved():
    firm = make_firm()
    without_toilet = {code: task for code, task in TASKS.items() if code not in ("set-toilet", "set-trap")}

    with pytest.raises(CannotLoadTemplates) as caught:
        load_templates(firm=firm, templates=TEMPLATES, items=ITEMS, tasks=without_toilet)

    said = str(caught.value)
    assert "set-toilet is not a known task" in said and "set-trap is not a known task" in said
    assert not TemplateRow.objects.of(firm).exists()


def test_an_unknown_template_lists_the_known_ones():
    firm = make_firm()
    load_templates(firm=firm, templates=[BY_SLUG["powder-room"]], items=ITEMS, tasks=TASKS)

    with pytest.raises(UnknownTemplate, match=r"no template powder\. Known templates: powder-room\."):
        get_template(firm, "powder")


def test_templates_of_another_firm_do_not_exist():
    firm, other = make_firm(), make_firm("Other Baths")
    load_shipped(firm)

    assert list_templates(other) == ()
    with pytest.raises(UnknownTemplate, match="none yet"):
        get_template(other, "powder-room")


def test_templates_are_listed_by_name_in_two_queries(django_assert_num_queries):
    firm = make_firm()
    load_shipped(firm)

    with django_assert_num_queries(2):
        found = list_templates(firm)

    assert [template.name for template in found] == sorted(template.name for template in TEMPLATES)


def test_planned_work_takes_the_hours_of_the_rate_book():
    work = PlannedWork("a", TASKS["set-toilet"], quantity=TASKS["set-toilet"].rate)

    plan = plan_labour(make_firm(), [work])

    assert plan.hours == TASKS["set-toilet"].setup_hours + 1


def change(firm, user, *lines: ScopeLine):
    return change_template_lines(
        firm=firm, slug="powder-room", lines=lines, tasks=TASKS, items=ITEMS, at=AT, by=user
    )


def make_line(code: str = "set-toilet", quantity: str = "toilet_count", **given: str) -> ScopeLine:
    return ScopeLine(key="", kind=LineKind.TASK, code=code, quantity=quantity, **given)


def test_changed_lines_take_the_place_of_the_old_and_are_written_down():
    firm = make_firm()
    user = make_member(firm)
    load_shipped(firm)

    change(firm, user, make_line(), make_line("set-trap", "basin_count", option="New trap"))

    lines = get_template(firm, "powder-room").lines
    assert [line.key for line in lines] == ["001-set-toilet", "002-set-trap"]
    audit = AuditLine.objects.of(firm).get(action="change template")
    added = {"kind": "task", "code": "set-trap", "quantity": "basin_count", "option": "New trap"}
    assert (audit.subject, audit.by, audit.at) == ("powder-room", user, AT)
    assert added in audit.detail["added"]


def test_a_line_that_an_option_takes_the_place_of_is_kept_and_read_back():
    firm = make_firm()
    load_shipped(firm)

    change(
        firm, make_member(firm), make_line(unless="Wall-hung"), make_line(quantity="1", option="Wall-hung")
    )

    assert [line.unless for line in get_template(firm, "powder-room").lines] == ["Wall-hung", ""]


def test_a_bad_line_refuses_the_whole_change():
    firm = make_firm()
    user = make_member(firm)
    load_shipped(firm)
    before = get_template(firm, "powder-room")

    with pytest.raises(CannotChangeTemplate, match=r"line 2 quantity: .*where set-trap takes a count"):
        change(firm, user, make_line(), make_line("set-trap", "floor_area"))

    assert get_template(firm, "powder-room") == before
    assert not AuditLine.objects.of(firm).exists()


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ([], "has no lines"),
        ([make_line(), make_line()], "repeats line 1"),
        ([make_line(option="x" * 121)], "line 1 option: write at most 120 plain characters"),
        ([make_line(when=f"floor_area > sq_ft({n})") for n in range(191)], "at most 190 are kept"),
        ([make_line(unless="x" * 121)], "line 1 unless: write at most 120 plain characters"),
        (
            [make_line(unless="Gold")],
            "line 1 unless: “Gold” is no option of this template",
        ),
        ([make_line(option="Gold", unless="Gold")], "line 1 unless: a line can not go when its own option"),
        ([make_line(option="Gold; silver")], "line 1 option: is the name of one option"),
        (
            [make_line(option="Gold"), replace(make_line(unless="Gold"), kind=LineKind.UNIT_PRICE)],
            "line 2 unless: a unit price stands whatever is chosen",
        ),
    ],
)
def test_lines_that_cannot_be_kept_are_refused(lines, said):
    firm = make_firm()
    load_shipped(firm)

    with pytest.raises(CannotChangeTemplate, match=said):
        change(firm, make_member(firm), *lines)


def copy(firm, new_slug: str = "small-powder", new_name: str = "Small powder room"):
    user = make_member(firm)
    return copy_template(firm=firm, slug="powder-room", new_slug=new_slug, new_name=new_name, at=AT, by=user)


def test_a_copy_has_the_lines_and_exclusions_of_the_first():
    firm = make_firm()
    load_shipped(firm)

    copy(firm)

    first, second = get_template(firm, "powder-room"), get_template(firm, "small-powder")
    assert (second.lines, second.exclusions) == (first.lines, first.exclusions)
    assert second.name == "Small powder room"
    assert AuditLine.objects.of(firm).get().detail == {"from": "powder-room"}


@pytest.mark.parametrize(
    ("given", "field"),
    [
        ({"new_slug": "powder-room"}, "new_slug"),
        ({"new_slug": "Small Powder"}, "new_slug"),
        ({"new_slug": "a--b"}, "new_slug"),
        ({"new_slug": "a" * 61}, "new_slug"),
        ({"new_name": "  "}, "new_name"),
    ],
)
def test_a_copy_without_a_good_name_is_refused(given, field):
    firm = make_firm()
    load_shipped(firm)

    with pytest.raises(CannotCopyTemplate) as caught:
        copy(firm, **given)

    assert [problem.field for problem in caught.value.problems] == [field]
