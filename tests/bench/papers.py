"""What each kind of paper costs beside a bare call of the PDF library, and how fast invoices are validated.

Times are CPU seconds, medians of interleaved runs; validation is wall time of the whole batch.
"""

import random
import time
from decimal import Decimal
from typing import Any

from django.core.management import call_command
from django.utils import timezone

from quoting.documents.models import IssuedPaper
from quoting.documents.paper import render_html
from quoting.engine.billing.amounts import Amounts, Slice, TaxRate
from quoting.engine.einvoice import write_credit_note, write_invoice
from quoting.engine.pricing.money import to_cents
from quoting.engine.pricing.values import Category
from quoting.overview.demo import get_main_contract, load_demo_firm
from quoting.overview.jobs import list_papers
from tests.bench.pdf import measure_side_by_side
from tests.einvoice import schema_errors, validate
from tests.quoting.bill_paper_samples import release_context
from tests.quoting.einvoice_makers import einvoice

INVOICES = 1_000
_TAX = TaxRate("Sales tax", Decimal("6.25"))


def measure_papers(runs: int = 5) -> dict[str, Any]:
    """Our CPU as a share of the bare library's for each kind of paper; seconds to validate 1,000 invoices."""
    call_command("migrate", verbosity=0)
    contract = get_main_contract(load_demo_firm(at=timezone.now()))
    pages = {paper.kind: _html_of(paper) for paper in list_papers(contract)}
    pages["release"] = render_html("documents/release.html", release_context())
    ratios = {}
    for kind, html in pages.items():
        ours, bare = measure_side_by_side(html, runs)
        ratios[f"{kind}_vs_bare"] = round(ours / bare, 3)
    return ratios | measure_validation()


def measure_validation() -> dict[str, Any]:
    """1,000 generated invoices and credit notes through schema and rules; fatal: how many break one."""
    generator = random.Random(20261125)
    documents = [_document(generator, place) for place in range(INVOICES)]
    start = time.perf_counter()
    fatal = sum(bool(schema_errors(xml) or validate(xml)) for xml in documents)
    return {
        "invoices": len(documents),
        "validated_s": round(time.perf_counter() - start, 2),
        "fatal": fatal,
    }


def _html_of(paper: IssuedPaper) -> str:
    context = IssuedPaper.objects.values_list("context", flat=True).get(pk=paper.pk)
    return render_html(paper.template, context)


def _document(generator: random.Random, place: int) -> bytes:
    nets = {
        Slice(category, (_TAX,) if category is Category.MATERIAL else ()): _sum(generator)
        for category in generator.sample(list(Category), generator.randint(1, 5))
    }
    taxed = sum((net for part, net in nets.items() if part.taxes), Decimal(0))
    taxes = {_TAX: to_cents(taxed * _TAX.rate / 100)} if taxed else {}
    amounts = Amounts(nets, taxes)
    if place % 5 == 0:
        return write_credit_note(einvoice(amounts, number=f"N-{place:04d}", invoice_reference="I-0001"))
    return write_invoice(einvoice(amounts, number=f"I-{place:04d}"))


def _sum(generator: random.Random) -> Decimal:
    return to_cents(Decimal(generator.randint(100, 3_000_000)) / 100)
