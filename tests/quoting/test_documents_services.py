"""Numbers without gaps, and papers that are kept as they were issued."""

import hashlib

import pytest
from django.db import transaction

from quoting.documents.models import IssuedPaper, NumberSeries
from quoting.documents.services import CannotIssuePaper, issue_paper, take_number
from tests.makers import AT, make_firm

pytestmark = pytest.mark.django_db
PDF = b"%PDF-1.7 made for a test"


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


def test_an_issued_paper_keeps_its_bytes_hash_and_origin():
    paper = issue_paper(firm=make_firm(), kind="quote", number="Q-0001", pdf=PDF, at=AT)

    kept = IssuedPaper.objects.get(pk=paper.pk)
    assert bytes(kept.pdf) == PDF
    assert kept.sha256 == hashlib.sha256(PDF).hexdigest()
    assert kept.fingerprint["weasyprint"] == "70.0"
    assert kept.issued_at == AT


def test_a_number_is_issued_once_a_kind():
    firm = make_firm()
    issue_paper(firm=firm, kind="quote", number="Q-0001", pdf=PDF, at=AT)

    with pytest.raises(CannotIssuePaper, match="number: quote Q-0001 has been issued already"):
        issue_paper(firm=firm, kind="quote", number="Q-0001", pdf=PDF, at=AT)

    assert IssuedPaper.objects.count() == 1
    issue_paper(firm=make_firm("Tidewater Tile"), kind="quote", number="Q-0001", pdf=PDF, at=AT)


def test_what_is_not_a_pdf_is_not_issued():
    with pytest.raises(CannotIssuePaper, match="pdf: is not a PDF"):
        issue_paper(firm=make_firm(), kind="quote", number="Q-0001", pdf=b"<html>", at=AT)
