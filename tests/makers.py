"""Makers of rows with sensible defaults: a test names only the detail that matters."""

from datetime import UTC, datetime
from decimal import Decimal

from labour.firm.models import Firm, Membership, Role, User, Worker

AT = datetime(2026, 11, 2, 9, 0, tzinfo=UTC)


def make_firm(name: str = "Harbor Lane Baths", *, set_up: bool = True) -> Firm:
    """A firm; set up unless said otherwise."""
    return Firm.objects.create(name=name, created_at=AT, set_up_at=AT if set_up else None)


def make_member(firm: Firm, role: Role = Role.OWNER, email: str = "") -> User:
    """Someone of the firm who can log in with the password "a-long-password"."""
    user = User.objects.create_user(email or f"{role}-{firm.pk}@example.com", "a-long-password")
    Membership.objects.create(firm=firm, user=user, role=role)
    return user


def make_worker(firm: Firm, wage: str = "30.00", burden: str = "30.00") -> Worker:
    """Someone whose hours are priced."""
    return Worker.objects.create(
        firm=firm, name="Sam Okafor", wage=Decimal(wage), burden_percent=Decimal(burden)
    )
