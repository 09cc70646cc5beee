"""Numbers without gaps, and papers that are kept as they were issued."""

import hashlib
from dataclasses import replace
from datetime import date
from decimal import Decimal
from io import BytesIO

import pikepdf
import pytest
from django.db import transaction

from quoting.documents.models import IssuedPaper, NumberSeries
from quoting.documents.paper import render_paper
from quoting.documents.rendering import Attached, CannotRender
from quoting.documents.services import CannotIssuePaper, Draft, issue_paper, take_number
from tests.makers import AT, make_firm

pytestmark = pytest.mark.django_db

PAGE = """<!doctype html><html lang="en"><title>{{ title }}</title><body><h1>{{ title }}</h1>
<p>{{ total }} on {{ on }}</p></body></html>"""


@pytest.fixture
def draft(tmp_path, settings) -> Draft:
    """A small paper with a template of its own."""
    (tmp_path / "small.html").write_text(PAGE)
    engine = settings.TEMPLATES[0]
    settings.TEMPLATES = [engine | {"DIRS": [*engine["DIRS"], tmp_path]}]
    context = {"title": "Quote Q-0001", "total": Decimal("1250.00"), "on": date(2026, 11, 2)}
    return Draft(kind="quote", number="Q-0001", template="small.html", context=context)


def test_numbers_follow_each_other_without_a_gap():
    firm = make_firm()

    numbers = [take_number(firm=firm, series="quote", prefix="Q-") for _ in range(3)]

    assert numbers == ["Q-0001", "Q-0002", "Q-0003"]


def test_every_firm_and_every_series_counts_for_itself():
    firm, other = make_firm(), make_firm("Tidewater Tile")
    take_number(firm=firm, series="quote")

    assert take_number(firm=firm, series="invoice") == "0001"
    assert take_number(firm=other, series="quote") == "0001"


def test_a_number_whose_use_fails_is_given_to_the_next():
    firm = make_firm()
    take_number(firm=firm, series="quote")

    with pytest.raises(ZeroDivisionError), transaction.atomic():
        take_number(firm=firm, series="quote")
        raise ZeroDivisionError

    assert take_number(firm=firm, series="quote") == "0002"


def test_the_row_of_a_series_is_locked_while_a_number_is_taken(monkeypatch):
    firm, locked = make_firm(), []
    rows = type(NumberSeries.objects.all())
    lock = rows.select_for_update
    monkeypatch.setattr(rows, "select_for_update", lambda self: locked.append(True) or lock(self))

    take_number(firm=firm, series="quote")

    assert locked == [True]


def test_an_issued_paper_keeps_its_bytes_hash_and_origin(draft):
    paper = issue_paper(firm=make_firm(), draft=draft, at=AT)

    kept = IssuedPaper.objects.get(pk=paper.pk)
    assert bytes(kept.pdf).startswith(b"%PDF-1.7")
    assert kept.sha256 == hashlib.sha256(kept.pdf).hexdigest()
    assert kept.fingerprint["weasyprint"] == "70.0"
    assert (kept.template, kept.issued_at, kept.unsealed_length) == ("small.html", AT, None)


def test_an_issued_paper_can_be_made_again_from_what_is_kept_with_it(draft):
    firm = make_firm()
    issue_paper(firm=firm, draft=draft, at=AT)

    kept = IssuedPaper.objects.get()
    again = render_paper(kept.template, kept.context | {"at": kept.issued_at}, paper=firm.paper)

    assert kept.context == {"title": "Quote Q-0001", "total": "1250.00", "on": "2026-11-02"}
    assert again == bytes(kept.pdf)


def test_a_number_is_issued_once_a_kind(draft):
    firm = make_firm()
    issue_paper(firm=firm, draft=draft, at=AT)

    with pytest.raises(CannotIssuePaper, match="number: quote Q-0001 has been issued already"):
        issue_paper(firm=firm, draft=draft, at=AT)

    assert IssuedPaper.objects.count() == 1
    issue_paper(firm=make_firm("Tidewater Tile"), draft=draft, at=AT)
    issue_paper(firm=firm, draft=replace(draft, kind="executed-quote"), at=AT)


def test_a_paper_that_can_not_be_made_is_not_kept(draft):
    with pytest.raises(CannotRender, match="title: every paper needs a <title>"):
        issue_paper(firm=make_firm(), draft=replace(draft, context={"title": ""}), at=AT)

    assert not IssuedPaper.objects.exists()


def test_what_travels_in_a_paper_is_kept_by_name_and_hash(draft):
    figures = Attached("invoice.xml", b"<Invoice/>", "The invoice for programs", AT)

    paper = issue_paper(firm=make_firm(), draft=replace(draft, attachments=(figures,)), at=AT)

    assert paper.attached == [{"name": "invoice.xml", "sha256": hashlib.sha256(b"<Invoice/>").hexdigest()}]
    with pikepdf.open(BytesIO(paper.pdf)) as pdf:
        assert pdf.attachments["invoice.xml"].get_file().read_bytes() == b"<Invoice/>"


def test_a_sealed_paper_says_how_much_of_it_is_the_paper(draft, monkeypatch):
    plain = issue_paper(firm=make_firm(), draft=draft, at=AT)
    monkeypatch.setattr("quoting.documents.services.seal", lambda firm, pdf: pdf + b"a seal")

    sealed = issue_paper(firm=make_firm(), draft=draft, at=AT)

    assert sealed.pdf[: sealed.unsealed_length] == plain.pdf
    assert sealed.sha256 == hashlib.sha256(plain.pdf + b"a seal").hexdigest()
