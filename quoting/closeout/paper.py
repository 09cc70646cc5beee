"""The closeout as a paper, for the firm only, set from its figures."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from quoting.closeout.shown import charts_of
from quoting.documents.paper import render_paper

TEMPLATE = "documents/closeout.html"


def closeout_pdf(figures: Mapping[str, Any], at: datetime) -> bytes:
    """The same figures give the same bytes. at: the moment written into the file as its date."""
    context = {**figures, "charts": charts_of(figures), "at": at}
    return render_paper(TEMPLATE, context, paper=figures["firm"]["paper"])
