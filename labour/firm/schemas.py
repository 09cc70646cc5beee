"""What the routes of the firm, its workers, people and keys take and give."""

from datetime import datetime
from typing import Annotated

from ninja import Schema
from pydantic import Field

from labour.firm.api_values import Amount, Body, DecimalText
from labour.firm.models import Paper, Role, Units

RoleName = Annotated[Role, Field(strict=False)]


class WhyOut(Schema):
    """How a figure came about: in words, with its numbers, and where they are from."""

    formula: str
    worked: str
    source: str


class LetterheadIn(Body):
    """What the firm's papers say about it, whole. currency: three letters, like USD."""

    name: str
    address: str = ""
    phone: str = ""
    email: str = ""
    licence_text: str = Field("", description="Printed as written, where a licence line is asked for")
    paper: Annotated[Paper, Field(strict=False)]
    units: Annotated[Units, Field(strict=False)]
    currency: str
    country: str = Field("US", description="Two letters")
    tax_number: str = Field("", description="Of the sales tax or VAT registration; stands on invoices")


class LetterheadOut(Schema):
    """What the firm's papers say about it."""

    name: str
    address: str
    phone: str
    email: str
    licence_text: str
    paper: str
    units: str
    currency: str
    country: str
    tax_number: str


class WorkerIn(Body):
    """Someone whose hours are priced. wage: per hour. burden_percent: taxes and insurance on the wage."""

    name: str
    trade: str = ""
    wage: Amount
    burden_percent: DecimalText


class WorkerOut(Schema):
    """A worker. loaded_cost: of an hour, wage with burden."""

    id: int
    name: str
    trade: str
    wage: Amount
    burden_percent: DecimalText
    loaded_cost: Amount
    why: WhyOut


class WorkerLogInIn(Body):
    """The log-in of a worker, by the id that /people gives; null when there is none."""

    person: int | None


class PersonIn(Body):
    """Who gets a log-in, and what they may see. A mail tells them where to choose a password."""

    email: str
    role: RoleName


class RoleIn(Body):
    """A new role for someone."""

    role: RoleName


class PersonOut(Schema):
    """Someone who can log in."""

    id: int
    email: str
    role: str


class ApiKeyIn(Body):
    """What the key is for."""

    name: str


class ApiKeyOut(Schema):
    """A key for programs. It may do what its person may."""

    id: int
    name: str
    person: str
    created_at: datetime


class NewApiKeyOut(Schema):
    """A new key. token: shown this once; send it as `Authorization: Bearer …`."""

    name: str
    token: str
