"""Readings of clients and their sites. Only the firm's own rows are found."""

from dataclasses import dataclass

from django.db.models import BooleanField, Count, Exists, ExpressionWrapper, OuterRef, Q, QuerySet

from labour.firm.access import get_of
from labour.firm.models import Firm
from quoting.clients.models import Client, Site

PAGE_SIZE = 50
LEAD_SAFE_FROM_YEAR = 1978
"""Houses built before it may hold lead paint; an unknown year counts as old."""


@dataclass(frozen=True, slots=True)
class FoundClients:
    """One page of clients by name, each with its `site_count`. next_after: key of the next page, or None."""

    rows: tuple[Client, ...]
    next_after: int | None


def get_client(firm: Firm, pk: int) -> Client:
    """The firm's client, or 404."""
    return get_of(Client, firm, pk=pk)


def get_site(firm: Firm, pk: int) -> Site:
    """The firm's site, or 404."""
    return get_of(Site, firm, pk=pk)


def list_clients(firm: Firm, search: str = "", after: int | None = None) -> FoundClients:
    """Clients by name whose name, e-mail, phone or one of whose site addresses holds the text.

    after: key of the last client on the page before; a key that is not the firm's starts from the top.
    """
    clients = Client.objects.of(firm).annotate(site_count=Count("sites"))
    if search:
        clients = clients.filter(_holds(firm, search))
    last = None if after is None else Client.objects.of(firm).filter(pk=after).first()
    if last is not None:
        clients = clients.filter(Q(name__gt=last.name) | Q(name=last.name, pk__gt=last.pk))
    rows = tuple(clients.order_by("name", "pk")[: PAGE_SIZE + 1])
    more = len(rows) > PAGE_SIZE
    return FoundClients(rows[:PAGE_SIZE], rows[PAGE_SIZE - 1].pk if more else None)


def list_sites(client: Client) -> "QuerySet[Site]":
    """The client's sites, oldest entry first, each with `needs_lead_safe_work`."""
    is_old = Q(year_built__isnull=True) | Q(year_built__lt=LEAD_SAFE_FROM_YEAR)
    flag = ExpressionWrapper(is_old, output_field=BooleanField())
    sites = Site.objects.of(client.firm).filter(client=client)
    return sites.annotate(needs_lead_safe_work=flag).order_by("pk")


def _holds(firm: Firm, search: str) -> Q:
    at_site = Site.objects.of(firm).filter(client=OuterRef("pk"), address__icontains=search)
    own = Q(name__icontains=search) | Q(email__icontains=search) | Q(phone__icontains=search)
    return own | Q(Exists(at_site))
