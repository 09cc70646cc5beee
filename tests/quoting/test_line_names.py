"""Keys of lines in words, and where they stand on the quote's page."""

import pytest

from labour.engine.refusal import Problem
from quoting.offer.line_names import name_keys, name_problems, place_of
from tests.makers import make_firm, make_material, make_site, make_task
from tests.quote_makers import make_quote

pytestmark = pytest.mark.django_db


def test_tasks_and_items_are_named_and_what_is_gone_keeps_its_code():
    firm = make_firm()
    make_task(firm)
    make_material(firm)
    make_task(make_firm("Other Baths"), "demo-toilet", "Another firm's task")

    named = name_keys(firm, ["Hall/bath/set-toilet#2", "Hall bath/wax-ring", "Hall bath/demo-toilet"])

    assert list(named.values()) == [
        "Hall/bath: Set a toilet",
        "Hall bath: Wax ring",
        "Hall bath: demo-toilet",
    ]


def test_a_problem_with_a_quantity_names_its_line():
    firm = make_firm()
    quote = make_quote(make_site(firm), make_task(firm))
    problems = [Problem("quantities[Hall bath/set-toilet]", "Is none."), Problem("title", "Is empty.")]

    named = name_problems(quote, problems)

    assert [problem.field for problem in named] == ["Hall bath: Set a toilet", "title"]


def test_a_line_is_found_by_its_place_and_one_that_is_gone_among_those_left_out():
    firm = make_firm()
    quote = make_quote(make_site(firm), make_task(firm))

    assert place_of(quote, "Hall bath/set-toilet") == "#line-0"
    assert place_of(quote, "Hall bath/paint") == "#left-out"
