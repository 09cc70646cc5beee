"""Pages at 10,000 quotes, against a bare view, with their query counts."""

from copy import deepcopy
from typing import Any

from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from labour.firm.models import Firm, Role, User
from quoting.offer.models import Quote
from quoting.overview.demo import get_main_quote
from tests.bench.timing import median_seconds

FEW, MANY = 100, 10_000


def measure_pages(firm: Firm) -> dict[str, Any]:
    """Time of the list and of a quote's page ÷ a bare view, and queries at few and at many quotes."""
    main = get_main_quote(firm)
    client = Client()
    client.force_login(User.objects.get(membership__firm=firm, membership__role=Role.OWNER))
    _fill(main, FEW)
    few = _count_queries(client, main)
    _fill(main, MANY)
    many = _count_queries(client, main)
    if few != many:
        raise SystemExit(f"Query counts grow with the number of quotes: {few} at {FEW}, {many} at {MANY}.")
    seconds = median_seconds(
        {
            "bare": lambda: client.get("/bare/"),
            "list": lambda: client.get("/quotes/"),
            "quote": lambda: client.get(f"/quotes/{main.pk}/"),
        },
        rounds=31,
    )
    return {
        "bare_view_ms": round(seconds["bare"] * 1000, 2),
        "list_page_vs_bare_view": round(seconds["list"] / seconds["bare"], 1),
        "quote_page_vs_bare_view": round(seconds["quote"] / seconds["bare"], 1),
        "list_page_queries": many["list"],
        "quote_page_queries": many["quote"],
        "quotes": MANY,
    }


def _fill(main: Quote, wanted: int) -> None:
    """Copies of the main quote as drafts; their figures are cut short, since no list reads them."""
    have = Quote.objects.of(main.firm).count()
    copies = []
    for number in range(have, wanted):
        copy = deepcopy(main)
        copy.pk, copy.number, copy.figures = None, f"B-{number:05}", {"cut": "short"}
        copies.append(copy)
    Quote.objects.bulk_create(copies, batch_size=500)


def _count_queries(client: Client, main: Quote) -> dict[str, int]:
    counts = {}
    for name, address in {"list": "/quotes/", "quote": f"/quotes/{main.pk}/"}.items():
        with CaptureQueriesContext(
            connection,
        ) as caught:
            answer = client.get(address)
        if answer.status_code != 200:
            raise SystemExit(f"{address} answered {answer.status_code}.")
        counts[name] = len(caught)
    return counts
