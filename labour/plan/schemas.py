"""What the routes of the scope templates take and give."""

from typing import Annotated

from ninja import Schema
from pydantic import Field

from labour.engine.scope import LineKind
from labour.firm.api_values import Body


class TemplateLineIn(Body):
    """One line of a template. code: of a task, or of a material when kind is item."""

    kind: Annotated[LineKind, Field(strict=False)]
    code: str = Field(pattern="^[-a-zA-Z0-9_]{1,40}$")
    quantity: str = Field(description="Expression over the words of /vocabulary", examples=["floor_area"])
    when: str = Field("", description="Expression that must hold; empty means always")
    option: str = Field("", description="Option that the line belongs to; empty means the base scope")
    unless: str = Field("", description="Option that takes the line's place; several with ; between them")


class TemplateLinesIn(Body):
    """The lines of a template, whole and in order."""

    lines: list[TemplateLineIn]


class CopyIn(Body):
    """The name of a copy. new_slug: small letters, digits and hyphens; it cannot be changed later."""

    new_slug: str
    new_name: str


class TemplateLineOut(Schema):
    """One line of a template. key: names the line inside a quote."""

    key: str
    kind: str
    code: str
    quantity: str
    when: str
    option: str
    unless: str


class TemplateRowOut(Schema):
    """A template in a list."""

    slug: str
    name: str
    summary: str


class TemplateOut(TemplateRowOut):
    """A template with its lines, and with what it leaves out."""

    lines: list[TemplateLineOut]
    exclusions: list[str]


class QuantityOut(Schema):
    """A derived quantity. dimension: 0 a count, 1 a length, 2 an area."""

    name: str
    dimension: int
    meaning: str


class VocabularyOut(Schema):
    """The words that expressions may use. facts: name → its values. conditions: name → meaning."""

    quantities: list[QuantityOut]
    facts: dict[str, list[str]]
    conditions: dict[str, str]
    functions: list[str]
    units: list[str]
