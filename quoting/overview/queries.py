"""What the first page shows."""

from dataclasses import dataclass

from labour.firm.models import Firm
from quoting.catalogue.models import MaterialRow
from quoting.offer.models import Quote, Status
from quoting.offer.queries import list_quotes

_SHOWN = 10


@dataclass(frozen=True, slots=True)
class Overview:
    """The firm at a glance: newest quotes, drafts waiting, prices missing."""

    quotes: list[Quote]
    drafts: int
    sent: int
    unpriced_materials: int


def get_overview(firm: Firm) -> Overview:
    """The firm's first page, in four queries."""
    quotes = Quote.objects.of(firm)
    return Overview(
        quotes=list_quotes(firm).rows[:_SHOWN],
        drafts=quotes.filter(status=Status.DRAFT).count(),
        sent=quotes.filter(status=Status.SENT).count(),
        unpriced_materials=MaterialRow.objects.of(firm).filter(price__isnull=True, is_active=True).count(),
    )


def list_work_sheets(firm: Firm) -> list[Quote]:
    """Offers whose work sheets the crew may open, newest first; no figures are read."""
    rows = Quote.objects.of(firm).filter(status__in=(Status.SENT, Status.ACCEPTED))
    rows = rows.select_related("survey__site__client")
    return list(
        rows.only("number", "title", "survey__site__address", "survey__site__client__name").order_by("-id")[
            :50
        ]
    )
