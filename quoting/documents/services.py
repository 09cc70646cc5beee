"""Numbers and issued papers. Called inside the transaction of the step that issues; that step audits."""

import hashlib
from datetime import datetime

from django.db import transaction

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm
from quoting.documents.models import IssuedPaper, NumberSeries
from quoting.documents.rendering import fingerprint


class CannotIssuePaper(Refusal):
    """The paper was not kept."""


@transaction.atomic
def take_number(*, firm: Firm, series: str, prefix: str = "", digits: int = 4) -> str:
    """The next number of a firm's series, such as "Q-0012". No number is skipped or given twice.

    The series stays locked until the caller's transaction ends; if that is rolled back, so is the number.
    """
    NumberSeries.objects.get_or_create(firm=firm, code=series)
    row = NumberSeries.objects.select_for_update().get(firm=firm, code=series)
    number = row.next_number
    row.next_number = number + 1
    row.save(update_fields=["next_number"])
    return f"{prefix}{number:0{digits}d}"


@transaction.atomic
def issue_paper(*, firm: Firm, kind: str, number: str, pdf: bytes, at: datetime) -> IssuedPaper:
    """Keep a paper byte for byte, with its hash and what made it. A number is issued once a kind."""
    if not pdf.startswith(b"%PDF-"):
        raise CannotIssuePaper(Problem("pdf", "is not a PDF file"))
    if IssuedPaper.objects.of(firm).filter(kind=kind, number=number).exists():
        raise CannotIssuePaper(Problem("number", f"{kind} {number} has been issued already"))
    return IssuedPaper.objects.create(
        firm=firm,
        kind=kind,
        number=number,
        pdf=pdf,
        sha256=hashlib.sha256(pdf).hexdigest(),
        fingerprint=fingerprint(),
        issued_at=at,
    )
