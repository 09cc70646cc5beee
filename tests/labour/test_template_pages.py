"""Pages of the templates: who may read, who may change, and what stands where."""

import pytest
from django.urls import reverse

from labour.firm.models import Role
from labour.plan.models import TemplateLineRow
from labour.plan.queries import get_template
from labour.plan.sheet import lay_out
from labour.ratebook.services import load_rate_book
from tests.labour.shipped import BY_SLUG, TASKS, TEMPLATES, load_shipped
from tests.makers import make_firm, make_member

pytestmark = pytest.mark.slow


def log_in(client, firm, role: Role = Role.OWNER):
    client.force_login(make_member(firm, role))
    return client


def test_a_template_is_laid_out_in_the_order_of_the_work():
    sheet = lay_out(BY_SLUG["hall-bath-to-the-studs"], TASKS)

    titles = [group.title for group in sheet.groups]
    assert titles[:2] == ["Protection and dust control", "Demolition"]
    assert titles[-2:] == ["Bought and paid items", "Unit prices for what may turn up"]
    assert sum(len(group.lines) for group in sheet.groups) == len(sheet.template.lines)
    assert "wet_wall_area" in [word.name for word in sheet.words]


@pytest.mark.django_db
def test_everyone_of_the_firm_reads_templates(client):
    firm = make_firm()
    load_shipped(firm)
    log_in(client, firm, Role.CREW)

    listed = client.get(reverse("templates"))
    shown = client.get(reverse("template", args=["tub-to-shower"]))

    assert "Tub to shower" in listed.text and listed.status_code == shown.status_code == 200
    assert "Wall tile of the wet zones, less openings and niche mouths" in shown.text
    assert reverse("template-edit", args=["tub-to-shower"]) not in shown.text


@pytest.mark.django_db
@pytest.mark.parametrize("name", ["template-edit", "template-copy"])
@pytest.mark.parametrize(("role", "status"), [(Role.CREW, 403), (Role.OFFICE, 200), (Role.OWNER, 200)])
def test_only_owner_and_office_open_the_forms(client, name, role, status):
    firm = make_firm()
    load_shipped(firm)

    assert log_in(client, firm, role).get(reverse(name, args=["powder-room"])).status_code == status


@pytest.mark.django_db
@pytest.mark.parametrize("name", ["template", "template-edit", "template-copy"])
def test_a_template_of_another_firm_is_not_found(client, name):
    load_shipped(make_firm())
    log_in(client, make_firm("Other Baths"))

    assert client.get(reverse(name, args=["powder-room"])).status_code == 404


def rows_of(page) -> dict[str, str]:
    """What a browser would send back of the table of lines."""
    table = page.context["table"]
    sent = {f"form-{key}": str(value) for key, value in table.management_form.initial.items()}
    fields = [
        form[name] for form in table for name in ("kind", "code", "quantity", "when", "option", "unless")
    ]
    return sent | {field.html_name: field.value() or "" for field in fields}


@pytest.fixture
def office(client, db):
    """A firm with the shipped rate book and templates, and the office logged in."""
    firm = make_firm()
    user = make_member(firm, Role.OFFICE)
    load_rate_book(firm=firm, tasks=TASKS.values())
    load_shipped(firm)
    client.force_login(user)
    client.firm = firm
    return client


ADDRESS = "/templates/powder-room/edit/"


def test_a_table_sent_back_as_it_came_changes_nothing(office):
    before = get_template(office.firm, "powder-room")

    answer = office.post(ADDRESS, rows_of(office.get(ADDRESS)))

    assert answer.status_code == 302, answer.context["whole"]
    assert get_template(office.firm, "powder-room") == before


def test_a_row_is_changed_added_and_removed_in_the_table(office):
    count = len(get_template(office.firm, "powder-room").lines)
    sent = rows_of(office.get(ADDRESS))
    sent |= {"form-0-DELETE": "on", "form-1-quantity": "2 * door_count"}
    sent |= {f"form-{count}-code": "fill-valve", f"form-{count}-quantity": "toilet_count"}

    office.post(ADDRESS, sent)

    lines = get_template(office.firm, "powder-room").lines
    assert (len(lines), lines[0].quantity, lines[-1].code) == (count, "2 * door_count", "fill-valve")


def test_what_is_wrong_stands_in_its_row_and_nothing_is_saved(office):
    before = get_template(office.firm, "powder-room")
    sent = rows_of(office.get(ADDRESS)) | {"form-0-DELETE": "on", "form-4-quantity": "toilet_cuont"}

    page = office.post(ADDRESS, sent)

    assert page.context["table"][4].errors["quantity"] == [
        "“toilet_cuont”: toilet_cuont is not a known name; did you mean toilet_count?"
    ]
    assert "Nothing was saved." in page.text
    assert get_template(office.firm, "powder-room") == before


def test_an_option_that_is_not_there_is_named_beside_the_line_that_gives_way_to_it(office):
    sent = rows_of(office.get(ADDRESS)) | {"form-0-unless": "Gold taps"}

    page = office.post(ADDRESS, sent)

    assert "“Gold taps” is no option of this template" in page.context["table"][0].errors["unless"][0]


def test_a_row_without_code_asks_for_it(office):
    page = office.post(ADDRESS, rows_of(office.get(ADDRESS)) | {"form-3-code": ""})

    assert "Write the code, or tick Remove." in page.text
    assert TemplateLineRow.objects.filter(template__slug="powder-room", position=4).exists()


def test_a_copy_is_made_from_its_page_and_opened_for_change(office):
    answer = office.post("/templates/powder-room/copy/", {"new_name": "Cloakroom", "new_slug": "cloakroom"})

    assert answer.url == "/templates/cloakroom/edit/"
    assert get_template(office.firm, "cloakroom").name == "Cloakroom"


def test_a_copy_under_a_taken_name_is_refused_on_its_page(office):
    page = office.post("/templates/powder-room/copy/", {"new_name": "X", "new_slug": "tub-to-shower"})

    assert "There is a template tub-to-shower already; choose another." in page.text


def test_the_longest_shipped_template_fits_its_form(office):
    longest = max(TEMPLATES, key=lambda template: len(template.lines)).slug
    address = reverse("template-edit", args=[longest])

    assert office.post(address, rows_of(office.get(address))).status_code == 302
