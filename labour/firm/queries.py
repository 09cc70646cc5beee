"""Readings of the firm's people and keys.

Comes in: the firm, or a token. Goes out: rows, the digest that is kept, and how an hour's cost comes about.
"""

import hashlib
from dataclasses import dataclass
from decimal import Decimal

from labour.engine.figures import to_hundredths
from labour.engine.why import Why
from labour.firm.models import ApiToken, AuditLine, Firm, Membership, Role, User, Worker

REMOVED = "remove member"


def digest_of(token: str) -> str:
    """What is kept of an API token."""
    return hashlib.sha256(token.encode()).hexdigest()


def list_workers(firm: Firm) -> list[Worker]:
    """Those whose hours are priced now, by name."""
    return list(Worker.objects.of(firm).filter(is_active=True).order_by("name", "pk"))


@dataclass(frozen=True, slots=True)
class PricedWorker:
    """A worker with the loaded cost of an hour, to the cent, and how it came about."""

    worker: Worker
    loaded_cost: Decimal
    why: Why


def list_priced_workers(firm: Firm) -> list[PricedWorker]:
    """The workers with what an hour of each costs."""
    return [price_worker(worker) for worker in list_workers(firm)]


def price_worker(worker: Worker) -> PricedWorker:
    """The worker with what an hour costs."""
    exact = worker.loaded_cost
    cents = to_hundredths(exact)
    worked = f"{worker.wage} × (1 + {worker.burden_percent} ÷ 100) = {exact.normalize():f}"
    why = Why("wage × (1 + burden ÷ 100)", worked, f"wage and burden of {worker.name}")
    return PricedWorker(worker, cents, why)


def list_members(firm: Firm) -> list[Membership]:
    """Everyone who can log in, with their user, by e-mail."""
    return list(Membership.objects.of(firm).select_related("user").order_by("user__email"))


def list_tokens(firm: Firm) -> list[ApiToken]:
    """The firm's API keys with whose they are, newest first."""
    return list(ApiToken.objects.of(firm).select_related("membership__user").order_by("-created_at", "-pk"))


def count_owners(firm: Firm) -> int:
    """How many log-ins have the owner's role."""
    return int(Membership.objects.of(firm).filter(role=Role.OWNER).count())


def find_former_member(firm: Firm, email: str) -> User | None:
    """The log-in of someone who was removed from this firm and belongs to none since."""
    user = User.objects.filter(email=email, membership=None).first()
    was_here = AuditLine.objects.of(firm).filter(action=REMOVED, subject=email).exists()
    return user if user and was_here else None
