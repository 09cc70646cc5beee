"""What the routes of clients and sites take and give."""

from datetime import datetime

from ninja import Schema
from pydantic import Field

from labour.firm.api_values import Body

_YEAR = "null when it is not known, which counts as old"


class ClientIn(Body):
    """Someone to quote to."""

    name: str
    email: str = ""
    phone: str = ""
    address: str = Field("", description="Postal address")


class SiteIn(Body):
    """A house where work is done; year and stairs decide cautions and hours."""

    address: str
    year_built: int | None = Field(description=_YEAR)
    storeys_to_carry: int = Field(0, description="Flights of stairs between the bathroom and the street")
    is_occupied: bool = Field(True, description="Lived in during the work")
    notes: str = ""


class ClientRowOut(Schema):
    """A client in a list."""

    id: int
    name: str
    email: str
    phone: str
    address: str


class SiteOut(Schema):
    """A site of a client."""

    id: int
    client_id: int
    address: str
    year_built: int | None = Field(description=_YEAR)
    storeys_to_carry: int
    is_occupied: bool
    notes: str


class ClientOut(ClientRowOut):
    """A client with the sites."""

    created_at: datetime
    sites: list[SiteOut]


class ClientPage(Schema):
    """One page of clients by name; `next_after` is the `after` of the next one."""

    clients: list[ClientRowOut]
    next_after: int | None
