"""Whose hours someone may write or change: the office everyone's, the crew their own of the last days."""

from dataclasses import dataclass
from datetime import date, timedelta

from labour.engine.refusal import Problem
from labour.firm.models import Firm, Membership, User, Worker
from labour.work.log_words import CannotLogWork
from labour.work.models import WorkEntry

CREW_DAYS = 14


@dataclass(frozen=True, slots=True)
class Hand:
    """Who writes. worker: whose log-in it is, if it is a worker's. user_id: None for the program itself."""

    sees_all: bool
    worker: Worker | None
    user_id: int | None

    @property
    def is_tied(self) -> bool:
        """Whether it writes for one worker alone."""
        return not self.sees_all and self.worker is not None


def hand_of(firm: Firm, by: User | None) -> Hand:
    """What this person may write. Raise CannotLogWork when the person is not of the firm."""
    if by is None:
        return Hand(True, None, None)
    member = Membership.objects.of(firm).select_related("worker").filter(user=by).first()
    if member is None:
        raise CannotLogWork("Only people of the firm write into its log.")
    return Hand(member.sees_prices, getattr(member, "worker", None), by.pk)


def may_change(hand: Hand, entry: WorkEntry, today: date) -> bool:
    """Whether this person may correct or strike the entry."""
    if hand.sees_all:
        return True
    if entry.on < today - timedelta(days=CREW_DAYS):
        return False
    return entry.worker == hand.worker if hand.worker else entry.logged_by_id == hand.user_id


def refuse_other_hand(hand: Hand, worker: Worker, on: date, today: date) -> None:
    """Raise CannotLogWork when the crew writes for someone else, or of a day long gone."""
    if hand.sees_all:
        return
    if hand.worker and worker != hand.worker:
        words = f"You write down the hours of {hand.worker.name}; the office writes down those of others."
        raise CannotLogWork(Problem("worker", words))
    if on < today - timedelta(days=CREW_DAYS):
        words = f"is more than {CREW_DAYS} days ago; ask the office to write it down."
        raise CannotLogWork(Problem("on", words))
