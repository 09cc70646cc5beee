"""Kinds of values that every route takes and gives: JSON comes in, checked Python values go out, and back.

Nothing is guessed: `false` is no number, `1` is no flag, and a field that is not known is refused. Amounts,
rates and quantities travel as decimal text, days as ISO dates.
"""

import re
from datetime import date
from decimal import Decimal
from typing import Annotated, Any

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    PlainSerializer,
    WithJsonSchema,
)
from pydantic_core import PydanticCustomError

from labour.engine.figures import plain

_PATTERN = r"-?[0-9]{1,12}(\.[0-9]{1,6})?"
_DAY = r"[0-9]{4}-[0-9]{2}-[0-9]{2}"


class Body(BaseModel):
    """Base of everything that is sent to a route."""

    model_config = ConfigDict(strict=True, extra="forbid")


def _wrong(message: str) -> PydanticCustomError:
    return PydanticCustomError("wrong_value", "{message}", {"message": message})


def read_decimal(value: Any) -> Decimal:
    """A decimal from its text, or from a whole number; fractions as JSON numbers would not be exact."""
    if isinstance(value, Decimal):
        return value
    if isinstance(value, bool) or not isinstance(value, str | int):
        raise _wrong('Write a decimal as text, like "12.50".')
    if not re.fullmatch(_PATTERN, str(value)):
        raise _wrong(f'“{str(value)[:40]}” is no decimal; write one as text, like "12.50".')
    return Decimal(value)


def read_day(value: Any) -> date:
    """A day from text like 2026-10-01."""
    if isinstance(value, date):
        return value
    try:
        if isinstance(value, str) and re.fullmatch(_DAY, value):
            return date.fromisoformat(value)
    except ValueError:
        pass
    raise _wrong('Write a day as text, like "2026-10-01".')


def _refuse_null(text: str) -> str:
    if "\0" in text:
        raise _wrong("Remove the null character.")
    return text


def _decimal_schema(example: str) -> WithJsonSchema:
    return WithJsonSchema({"type": "string", "pattern": f"^{_PATTERN}$", "examples": [example]})


DecimalText = Annotated[
    Decimal,
    BeforeValidator(read_decimal),
    PlainSerializer(plain, return_type=str),
    _decimal_schema("14.5"),
]
"""A rate, a quantity, a percentage; shown without idle zeros."""

Amount = Annotated[
    Decimal,
    BeforeValidator(read_decimal),
    PlainSerializer(lambda amount: f"{amount:.2f}", return_type=str),
    _decimal_schema("12.50"),
]
"""Money in the firm's currency; shown with two decimals."""

Day = Annotated[date, BeforeValidator(read_day), WithJsonSchema({"type": "string", "format": "date"})]

Search = Annotated[str, Field(max_length=80), AfterValidator(_refuse_null)]
"""What is looked for in a list."""
