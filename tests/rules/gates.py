"""Who may pass which address. A new route needs one line here; a line without its route fails too."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from operator import attrgetter
from typing import Any

from django.urls import reverse

from labour.firm.models import Role
from tests.rules.house import House


@dataclass(frozen=True)
class Gate:
    """Who may pass, and how an address is made.

    roles: None for everybody, logged in or not. takes: name → path into the house ("client.pk"), or a plain
    value after "=". body: what a real form sends, so that a closed gate is tried with it too.
    """

    roles: tuple[Role, ...] | None
    takes: Mapping[str, str] = field(default_factory=dict)
    body: Mapping[str, str] = field(default_factory=dict)

    @property
    def asks_for_rows(self) -> bool:
        """Whether the address names a row of a firm."""
        return any(not path.startswith("=") for path in self.takes.values())

    def address(self, name: str, house: House) -> str:
        """The route's address for the house's rows."""
        return reverse(name, kwargs={key: _look_up(house, path) for key, path in self.takes.items()})


def _look_up(house: House, path: str) -> Any:
    return path[1:] if path.startswith("=") else attrgetter(path)(house)


def public(**takes: str) -> Gate:
    """For everybody, logged in or not."""
    return Gate(None, takes)


def everyone(body: Mapping[str, str] | None = None, **takes: str) -> Gate:
    """For everyone who is logged in."""
    return Gate((Role.OWNER, Role.OFFICE, Role.CREW), takes, body or {})


def office(body: Mapping[str, str] | None = None, **takes: str) -> Gate:
    """For owner and office."""
    return Gate((Role.OWNER, Role.OFFICE), takes, body or {})


def owner(body: Mapping[str, str] | None = None, **takes: str) -> Gate:
    """For the owner alone."""
    return Gate((Role.OWNER,), takes, body or {})


# What real forms send. Each changes something when the firm's own owner sends it, which the walk checks.
_LETTERHEAD = {"name": "Taken over", "paper": "a4", "units": "us", "currency": "USD"}
_WORKER = {"name": "Taken over", "wage": "30", "burden_percent": "20"}
_TASK = {
    "name": "Taken over", "client_text": "Taken over", "rate": "1", "rate_low": "1", "rate_high": "1",
    "setup_hours": "0", "cure_hours": "0", "crew_min": "1", "crew_max": "1", "source": "starting guess",
}  # fmt: skip
_LINES = {
    "form-TOTAL_FORMS": "1", "form-INITIAL_FORMS": "0", "form-0-kind": "task",
    "form-0-code": "harbor-task", "form-0-quantity": "2", "form-0-ORDER": "1",
}  # fmt: skip
_CLIENT = {"name": "Taken over", "email": "", "phone": "", "address": ""}
_SITE = {"address": "Taken over", "year_built": "", "storeys_to_carry": "0", "notes": ""}
_MATERIAL = {
    "name": "Taken over", "category": "material", "content_unit": "each", "pack_name": "piece",
    "pack_size": "1", "price": "1.00", "priced_on": "2026-11-02",
}  # fmt: skip
_LEAVE_OUT = {"key": "Hall bath/harbor-task", "action": "leave-out"}
_ADDED = {"room": "Hall bath", "task": "harbor-task", "quantity": "1"}

GATES: dict[str, Gate] = {
    "account_login": public(),
    "account_logout": public(),
    "account_inactive": public(),
    "account_signup": public(),
    "account_email_verification_sent": public(),
    "account_reset_password": public(),
    "account_reset_password_done": public(),
    "account_reset_password_from_key": public(uidb36="=1", key="=set-password"),
    "account_reset_password_from_key_done": public(),
    "account_confirm_email": public(key="=none"),
    "account_confirm_login_code": public(),
    "account_reauthenticate": everyone(),
    "account_email": everyone(),
    "account_change_password": everyone(),
    "account_set_password": everyone(),
    "home": everyone(),
    "set-up": everyone(),
    "set-up-workers": owner(_WORKER),
    "set-up-finish": owner(),
    "firm": office(_LETTERHEAD),
    "workers": owner(_WORKER),
    "worker": owner(_WORKER, pk="worker.pk"),
    "worker-retire": owner(pk="worker.pk"),
    "people": owner({"email": "someone@example.com", "role": "crew"}),
    "member": owner({"role": "office"}, pk="crew.pk"),
    "member-remove": owner(pk="crew.pk"),
    "tokens": owner({"name": "key"}),
    "token-revoke": owner(pk="token.pk"),
    "rate-book": everyone(),
    "rate-add": office(_TASK | {"code": "taken-over", "phase": "tile", "unit": "each"}),
    "rate": everyone(_TASK, code="task.code"),
    "templates": everyone(),
    "template": everyone(slug="template.slug"),
    "template-edit": office(_LINES, slug="template.slug"),
    "template-copy": office({"new_name": "Taken over", "new_slug": "taken-over"}, slug="template.slug"),
    "clients": office(),
    "client-add": office(_CLIENT),
    "client": office(_CLIENT, pk="client.pk"),
    "site-add": office(_SITE, pk="client.pk"),
    "site": office(_SITE, pk="site.pk"),
    "materials": office(),
    "material-add": office(_MATERIAL | {"code": "taken-over"}),
    "material": office({"price": "1.00", "priced_on": "2026-11-02"}, code="material.code"),
    "material-edit": office(_MATERIAL, code="material.code"),
    "price-settings": office(),
    "price-example": owner(category="=labour"),
    "quotes": office(),
    "quote": office(quote_id="quote.pk"),
    "rooms-measured": office(quote_id="quote.pk"),
    "buying-list": office(quote_id="quote.pk"),
    "line-why": office(quote_id="quote.pk", index="=0"),
    "quote-paper": office(quote_id="quote.pk"),
    "work-sheet": everyone(quote_id="quote.pk"),
    "quote-send": office(quote_id="quote.pk"),
    "price-again": office(quote_id="quote.pk"),
    "change-line": office({"key": "Hall bath/harbor-task", "action": "leave-out"}, quote_id="quote.pk"),
    "add-work": office(_ADDED, quote_id="quote.pk"),
    "quote-discount": office({"percent": "10", "amount": "0"}, quote_id="quote.pk"),
    "quote-options": office(quote_id="quote.pk"),
}
