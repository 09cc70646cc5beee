"""What the routes of bills and payments take."""

from datetime import date
from decimal import Decimal

from pydantic import Field

from labour.firm.api_values import Amount, Body, Day, DecimalText

_TICKET = "Any text of your own; sent again it gives the first answer instead of doing the thing twice"
_SHARES = "What counts towards which invoice; null for the oldest first"


class TicketIn(Body):
    """A change that is done once for each ticket."""

    ticket: str = Field("", description=_TICKET)


class BillMilestoneIn(TicketIn):
    """One payment of the schedule, by its id. retain: hold the contract's retainage back."""

    row: int
    retain: bool = True


class ProgressIn(TicketIn):
    """Percent complete by item's key, from 0 to 100; an item that is left out stays as it was."""

    percents: dict[str, DecimalText]
    retain: bool = True


class RestIn(TicketIn):
    """All that is left of the contract."""

    retain: bool = False


class PlannedIn(Body):
    """A payment still to come, with tax."""

    name: str
    amount: Amount
    is_deposit: bool = False


class ScheduleIn(Body):
    """All payments still to come; with the billed ones they must add up to the contract sum."""

    rows: list[PlannedIn] = Field(max_length=100)


class CreditIn(TicketIn):
    """What to take back of an invoice, with tax. total: null for all that is left of it."""

    reason: str
    total: Amount | None = None


class ReleaseIn(TicketIn):
    """What to make due of the money held back. total: null for all of it."""

    total: Amount | None = None


class SendIn(TicketIn):
    """Whom to write to; "" for the client's address."""

    to: str = ""


class ShareIn(Body):
    """What of the money counts towards an invoice, by its id."""

    invoice: int
    amount: Amount


class SharesIn(TicketIn):
    """How the client's credit is to be used."""

    shares: list[ShareIn] | None = Field(None, description=_SHARES, max_length=200)


class RefundIn(TicketIn):
    """Money that went back to the client, above zero. method: cash, cheque, transfer, card or other."""

    amount: Amount
    method: str
    received_on: Day
    reference: str = Field("", description="Cheque number or the like")
    note: str = ""


class PaymentIn(RefundIn):
    """Money that came. What the shares leave is kept as the client's credit."""

    shares: list[ShareIn] | None = Field(None, description=_SHARES, max_length=200)


class PeriodIn(Body):
    """Days from start to end, both included."""

    start: Day
    end: Day


def shares_of(shares: list[ShareIn] | None) -> dict[int, Decimal] | None:
    """Shares by invoice; two of one invoice are added."""
    if shares is None:
        return None
    found: dict[int, Decimal] = {}
    for share in shares:
        found[share.invoice] = found.get(share.invoice, Decimal("0.00")) + share.amount
    return found


def money_of(body: RefundIn) -> dict[str, Decimal | str | date]:
    """The money of a payment or refund, as services take it."""
    names = ("amount", "method", "received_on", "reference", "note")
    return {name: getattr(body, name) for name in names}
