"""Readings of letters."""

from labour.firm.models import Firm
from quoting.documents.models import Letter


def list_letters(firm: Firm, about: str) -> list[Letter]:
    """The firm's letters about a paper, such as "invoice I-0004", with their papers; the newest first."""
    rows = Letter.objects.of(firm).filter(about=about)
    return list(rows.prefetch_related("papers").order_by("-pk"))
