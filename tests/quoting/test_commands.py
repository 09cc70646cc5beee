"""The commands: a rooms file in and a priced quote out; the demo firm and its papers."""

import json
from decimal import Decimal
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from labour.firm.models import Firm
from quoting.catalogue.models import MaterialRow
from quoting.engine.measure.rooms_file import rooms_schema
from quoting.offer.models import Quote
from tests.hall_bath import OPTION, SLUG
from tests.hall_firm import hall_rooms, make_hall_firm
from tests.reading import pdf_text
from tests.rules.house import all_rows

FIRM = "Harbor Lane Baths"
KEYS = {
    "number", "client", "lines", "discount", "subtotal", "taxes", "total", "options", "allowances",
    "unit_prices", "milestones", "rooms", "firm_view",
}  # fmt: skip

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def rooms(tmp_path: Path) -> Path:
    """A rooms file of the hall bath, and a firm with its books."""
    make_hall_firm(FIRM)
    file = tmp_path / "hall-bath.json"
    file.write_text(json.dumps(hall_rooms()), encoding="utf-8")
    return file


def run(*args: Any, **options: Any) -> str:
    """What a command says."""
    said = StringIO()
    call_command(*args, stdout=said, **options)
    return said.getvalue()


@pytest.fixture
def demo_papers(tmp_path: Path) -> Path:
    """A folder with the demo's papers."""
    run("demo", once=True, out=tmp_path)
    return tmp_path


def check_sums(document: dict[str, Any]) -> None:
    """Lines + discount = subtotal, subtotal + taxes = total, payments = total."""
    lines = sum(Decimal(line["amount"]) for line in document["lines"])
    taxes = sum(Decimal(tax["amount"]) for tax in document["taxes"])
    payments = sum(Decimal(part["amount"]) for part in document["milestones"])
    assert lines + Decimal(document["discount"]) == Decimal(document["subtotal"])
    assert Decimal(document["subtotal"]) + taxes == Decimal(document["total"]) == payments


def test_a_rooms_file_is_priced_and_nothing_is_kept(rooms):
    before = all_rows()

    said = run("quote", rooms, template=SLUG, firm=FIRM)

    shown = {line[:40].strip(): line[40:].strip() for line in said.splitlines()}
    assert shown["Tile"] == "1881.00"
    assert shown["Sales tax"] == "59.74"
    assert shown["Total"] == "4397.84"
    assert all_rows() == before


def test_paper_and_figures_are_written_where_they_are_asked_for(rooms, tmp_path):
    pdf, figures = tmp_path / "quote.pdf", tmp_path / "quote.json"

    run("quote", rooms, template=SLUG, firm=FIRM, pdf=pdf, json=figures)

    document = json.loads(figures.read_text(encoding="utf-8"))
    text = pdf_text(pdf.read_bytes())
    assert set(document) == KEYS
    check_sums(document)
    assert document["total"] == "4397.84"
    assert "$4,397.84" in text
    assert "DRAFT" in text


def test_an_option_can_be_taken_into_the_price(rooms):
    said = run("quote", rooms, template=SLUG, firm=FIRM, option=[OPTION])

    # 975 more, and 6 % of its 675 of material
    assert said.splitlines()[-1].split() == ["Total", "5413.34"]


def test_a_missing_price_is_said(rooms):
    MaterialRow.objects.filter(code="paint").update(price=None)

    assert run("quote", rooms, template=SLUG, firm=FIRM).splitlines()[-1] == "No price: Wall paint"


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ({"template": "no-such"}, "There is no template no-such. Known templates: tub-surround."),
        ({}, "Choose a scope template for “Hall bath”"),
        ({"template": SLUG, "firm": "No Such Firm"}, "There is no firm called “No Such Firm”"),
        ({"template": SLUG, "option": ["Gold taps"]}, "There is no option “Gold taps”"),
        ({"template": SLUG, "pdf": Path("/no-such-folder/quote.pdf")}, "/no-such-folder/quote.pdf: No such"),
    ],
)
def test_what_can_not_be_done_is_said_in_one_sentence_and_nothing_is_kept(rooms, options, said):
    before = all_rows()

    with pytest.raises(CommandError) as refused:
        run("quote", rooms, **({"firm": FIRM} | options))

    assert said in str(refused.value)
    assert all_rows() == before


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b'{"format": ', "This is not JSON"),
        (b"", "This is not JSON"),
        (b'{"format": "screedbook-rooms-1"}', "rooms: This is missing"),
        (b'{"format": "other", "rooms": []}', "format: "),
        (b"\xff\xfe{", "not UTF-8"),
        (b'{"rooms": NaN}', "NaN, which is no number"),
        (b"[" * 100_000, "nested too deep"),
        (b" " * 1_000_001, "1,000,001 bytes"),
    ],
)
def test_a_file_that_is_no_rooms_file_is_refused_with_the_reason(rooms, content, said):
    rooms.write_bytes(content)

    with pytest.raises(CommandError) as refused:
        run("quote", rooms, template=SLUG, firm=FIRM)

    assert said in str(refused.value)


def test_a_file_that_is_not_there_is_named(tmp_path):
    missing = tmp_path / "nowhere.json"
    make_hall_firm(FIRM)

    with pytest.raises(CommandError, match=r"nowhere\.json: No such file"):
        run("quote", missing, template=SLUG, firm=FIRM)


@pytest.mark.slow
def test_the_demo_writes_a_paper_and_figures_that_add_up(tmp_path):
    said = run("demo", once=True, out=tmp_path / "papers")

    document = json.loads((tmp_path / "papers" / "quote.json").read_text(encoding="utf-8"))
    text = pdf_text((tmp_path / "papers" / "quote.pdf").read_bytes())
    assert "quote.pdf" in said
    assert set(document) >= KEYS
    check_sums(document)
    assert f"${Decimal(document['total']):,.2f}" in text
    assert document["number"] in text
    assert document["firm_view"]["missing_prices"] == []


@pytest.mark.slow
def test_the_demo_runs_a_second_time_with_the_same_papers(tmp_path):
    run("demo", once=True, out=tmp_path / "first")
    firms, quotes = Firm.objects.count(), Quote.objects.count()

    run("demo", once=True, out=tmp_path / "second")

    assert (Firm.objects.count(), Quote.objects.count()) == (firms, quotes)
    for name in ("quote.pdf", "quote.json", "job.json", "progress-invoice.pdf", "statement.pdf"):
        assert (tmp_path / "first" / name).read_bytes() == (tmp_path / "second" / name).read_bytes()


def test_the_demo_asks_for_a_folder():
    with pytest.raises(CommandError, match="--once needs --out DIR"):
        run("demo", once=True)


@pytest.mark.slow
def test_a_folder_that_can_not_be_made_is_named(tmp_path):
    (tmp_path / "papers").write_text("in the way")

    with pytest.raises(CommandError, match="papers: File exists"):
        run("demo", once=True, out=tmp_path / "papers")


@pytest.mark.slow
def test_a_quote_is_priced_with_the_demo_firms_books_when_no_firm_is_named(rooms):
    said = run("quote", rooms, template="hall-bath-to-the-studs")

    totals = [line.split()[1] for line in said.splitlines() if line.startswith("Total")]
    assert len(totals) == 1
    assert Decimal(totals[0]) > 1000
    assert [firm.name for firm in Firm.objects.all()] == [FIRM]


def test_the_rooms_file_of_these_tests_is_what_the_schema_describes():
    from jsonschema import validate

    validate(hall_rooms(), rooms_schema())


@pytest.mark.slow
def test_the_demo_job_is_written_with_its_papers_and_adds_up(tmp_path):
    run("demo", once=True, out=tmp_path)

    job = json.loads((tmp_path / "job.json").read_text(encoding="utf-8"))
    sums = {name: Decimal(text) for name, text in job.items() if name != "changes"}
    approved = sum(Decimal(row["amount"]) for row in job["changes"] if row["status"] == "approved")
    quote = json.loads((tmp_path / "quote.json").read_text(encoding="utf-8"))
    assert sums["quote_total"] == Decimal(quote["total"])
    assert sums["contract_sum"] == sums["quote_total"] + approved
    assert sums["contract_sum"] == sums["billed"] - sums["credited"] + sums["to_bill"]
    assert sums["owed"] == sums["billed"] - sums["credited"] - sums["retained"] - sums["paid"]
    assert approved > 0 < sums["retained"]


@pytest.mark.slow
def test_each_paper_of_the_demo_job_says_what_it_is(demo_papers):
    said = {
        "signed-quote.pdf": "Marguerite Ashdown",
        "change-order.pdf": "Concealed rot",
        "deposit-invoice.pdf": "Local law may limit",
        "progress-invoice.pdf": "Held back",
        "credit-note.pdf": "Credit for invoice",
        "statement.pdf": "How it comes about",
    }

    texts = {name: pdf_text((demo_papers / name).read_bytes()) for name in said}

    assert [name for name, words in said.items() if words not in texts[name]] == []
