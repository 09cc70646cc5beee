"""Makers of rows with sensible defaults: a test names only the detail that matters."""

from datetime import UTC, datetime
from decimal import Decimal

from labour.engine.scope import LineKind
from labour.engine.vocabulary import Phase
from labour.firm.models import Firm, Membership, Role, User, Worker
from labour.plan.models import TemplateLineRow, TemplateRow
from labour.ratebook.models import TaskRow
from quoting.catalogue.models import MaterialRow
from quoting.clients.models import Client, Site
from quoting.engine.pricing.values import Category, Method
from quoting.price.models import CategoryRuleRow, PriceSettings

AT = datetime(2026, 11, 2, 9, 0, tzinfo=UTC)


def make_firm(name: str = "Harbor Lane Baths", *, set_up: bool = True) -> Firm:
    """A firm; set up unless said otherwise."""
    return Firm.objects.create(name=name, created_at=AT, set_up_at=AT if set_up else None)


def make_member(firm: Firm, role: Role = Role.OWNER, email: str = "") -> User:
    """Someone of the firm who can log in with the password "a-long-password"."""
    user = User.objects.create_user(email or f"{role}-{firm.pk}@example.com", "a-long-password")
    Membership.objects.create(firm=firm, user=user, role=role)
    return user


def make_worker(firm: Firm, wage: str = "30.00", burden: str = "30.00", name: str = "Sam Okafor") -> Worker:
    """Someone whose hours are priced."""
    return Worker.objects.create(firm=firm, name=name, wage=Decimal(wage), burden_percent=Decimal(burden))


def make_client(
    firm: Firm, name: str = "Ada Brook", email: str = "", phone: str = "", address: str = ""
) -> Client:
    """Someone to quote to."""
    return Client.objects.create(
        firm=firm, name=name, email=email, phone=phone, address=address, created_at=AT
    )


def make_site(
    firm: Firm, address: str = "4 Wharf Row", year_built: int | None = 1990, client: Client | None = None
) -> Site:
    """A house where work is done; of a new client unless one is given."""
    return Site.objects.create(
        firm=firm, client=client or make_client(firm), address=address, year_built=year_built
    )


def make_task(firm: Firm, code: str = "set-toilet", name: str = "Set a toilet", rate: str = "0.5") -> TaskRow:
    """A task counted one by one, of the fixtures phase."""
    return TaskRow.objects.create(
        firm=firm,
        code=code,
        name=name,
        client_text=name,
        phase=Phase.FIXTURES,
        unit="each",
        rate=Decimal(rate),
        rate_low=Decimal(rate) / 2,
        rate_high=Decimal(rate) * 2,
    )


def make_material(
    firm: Firm, code: str = "wax-ring", name: str = "Wax ring", price: str | None = "6.50"
) -> MaterialRow:
    """A material bought one by one; price None when it is not known."""
    return MaterialRow.objects.create(
        firm=firm,
        code=code,
        name=name,
        category=Category.MATERIAL,
        content_unit="each",
        pack_name="piece",
        pack_size=Decimal(1),
        price=None if price is None else Decimal(price),
        priced_on=AT.date(),
    )


def make_template(
    firm: Firm, slug: str = "new-toilet", name: str = "New toilet", code: str = "set-toilet"
) -> TemplateRow:
    """A template of one line: the task is done once."""
    template = TemplateRow.objects.create(firm=firm, slug=slug, name=name, summary="A toilet is set.")
    TemplateLineRow.objects.create(template=template, position=1, kind=LineKind.TASK, code=code, quantity="1")
    return template


def make_prices(firm: Firm, markup: str = "25") -> PriceSettings:
    """How the firm prices: the same markup on every category, half due at the start and half at the end."""
    rule = {"method": Method.MARKUP, "percent": Decimal(markup)}
    for category in Category:
        CategoryRuleRow.objects.create(firm=firm, category=category, **rule)
    milestones = [{"name": "At the start", "percent": "50"}, {"name": "At the end", "percent": "50"}]
    return PriceSettings.objects.create(firm=firm, milestones=milestones)
