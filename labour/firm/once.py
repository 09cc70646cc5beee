"""Tickets against doing a thing twice: a double click, or a program that asks again, gets the first answer.

Comes in: the ticket that a form or a program sends along. Call inside the transaction of the change.
"""

from datetime import datetime

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import DoneOnce, Firm

MOST_LETTERS = 64


class BadTicket(Refusal):
    """The ticket was used for something else."""


def find_done(firm: Firm, ticket: str, action: str) -> int | None:
    """The row that this ticket made; None when the ticket is new or empty. Raise BadTicket."""
    if not ticket:
        return None
    if len(ticket) > MOST_LETTERS or not ticket.isprintable():
        raise BadTicket(Problem("ticket", f"is at most {MOST_LETTERS} plain characters."))
    done: DoneOnce | None = DoneOnce.objects.of(firm).filter(ticket=ticket).first()
    if done is None:
        return None
    if done.action != action:
        raise BadTicket(Problem("ticket", f"was used to {done.action}; take a new one to {action}."))
    return done.row_id


def keep_done(firm: Firm, ticket: str, action: str, row_id: int, at: datetime) -> None:
    """Remember what the ticket made. Two at the same moment: the second fails and is rolled back."""
    if ticket:
        DoneOnce.objects.create(firm=firm, ticket=ticket, action=action, row_id=row_id, at=at)
