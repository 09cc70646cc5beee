"""The price of a draft as it stands; nothing is kept."""

from typing import Any

from labour.firm.models import Firm
from quoting.clients.models import Site
from quoting.measure.queries import get_house
from quoting.offer.changes import read_changes
from quoting.offer.queries import estimate_rooms, figures_for
from quoting.offer.services import QuoteDraft


def price_without_keeping(firm: Firm, draft: QuoteDraft, site: Site | None) -> dict[str, Any]:
    """The figures of a draft, as they would be stored. site: whose house counts; the rooms file's without."""
    house = get_house(site) if site is not None else draft.rooms.house
    changes = read_changes(draft.changes, draft.choice.options)
    rooms = [room for room, _ in draft.rooms.rooms]
    priced = estimate_rooms(firm, house, rooms, draft.choice, changes, draft.discount)
    return figures_for(firm, house, priced, draft.rooms.notes)
