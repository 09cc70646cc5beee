"""Routes of clients and their sites, for owner and office."""

from typing import Any

from ninja import Router, Status

from labour.firm.access import OFFICE, MemberRequest
from labour.firm.api_access import at_by, only
from labour.firm.api_values import Search
from quoting.clients import services
from quoting.clients.models import Client
from quoting.clients.queries import get_client, get_site, list_clients, list_sites
from quoting.clients.schemas import ClientIn, ClientOut, ClientPage, SiteIn, SiteOut

router = Router(tags=["clients"])

_CLIENT = ("id", "name", "email", "phone", "address", "created_at")


@router.get("/clients", response=ClientPage)
@only(*OFFICE)
def get_clients(request: MemberRequest, search: Search = "", after: int | None = None) -> Any:
    """One page of clients by name; the search looks in name, e-mail, phone and site addresses."""
    found = list_clients(request.firm, search.strip(), after)
    return {"clients": found.rows, "next_after": found.next_after}


@router.post("/clients", response={201: ClientOut})
@only(*OFFICE)
def add_client(request: MemberRequest, body: ClientIn) -> Any:
    """Add someone to quote to."""
    return Status(201, _whole(services.add_client(firm=request.firm, **dict(body), **at_by(request))))


@router.get("/clients/{int:client_id}", response=ClientOut)
@only(*OFFICE)
def read_client(request: MemberRequest, client_id: int) -> Any:
    """A client with the sites."""
    return _whole(get_client(request.firm, client_id))


@router.put("/clients/{int:client_id}", response=ClientOut)
@only(*OFFICE)
def change_client(request: MemberRequest, client_id: int, body: ClientIn) -> Any:
    """Change a client's details, whole."""
    row = get_client(request.firm, client_id)
    return _whole(services.change_client(client=row, **dict(body), **at_by(request)))


@router.post("/clients/{int:client_id}/sites", response={201: SiteOut})
@only(*OFFICE)
def add_site(request: MemberRequest, client_id: int, body: SiteIn) -> Any:
    """Add a house of the client."""
    row = get_client(request.firm, client_id)
    return Status(201, services.add_site(client=row, **dict(body), **at_by(request)))


@router.get("/sites/{int:site_id}", response=SiteOut)
@only(*OFFICE)
def read_site(request: MemberRequest, site_id: int) -> Any:
    """What is known about a site."""
    return get_site(request.firm, site_id)


@router.put("/sites/{int:site_id}", response=SiteOut)
@only(*OFFICE)
def change_site(request: MemberRequest, site_id: int, body: SiteIn) -> Any:
    """Change what is known about a site, whole. Quotes already made keep their figures."""
    row = get_site(request.firm, site_id)
    return services.change_site(site=row, **dict(body), **at_by(request))


def _whole(client: Client) -> dict[str, Any]:
    return {name: getattr(client, name) for name in _CLIENT} | {"sites": list_sites(client)}
