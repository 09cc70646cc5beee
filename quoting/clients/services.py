"""Adding and changing clients and their sites: the only way to do it, for pages, API and commands.

Comes in: the firm's rows, what was typed, the moment and the person. Goes out: the saved row, and an audit
line for every change. A refusal names each field and what would be right, and nothing is saved.
"""

from collections.abc import Mapping
from datetime import datetime

from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.db import transaction
from django.utils import timezone

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import AuditLine, Firm, User
from quoting.clients.models import Client, Site

OLDEST_YEAR = 1600
MOST_STOREYS = 20

type Value = str | int | None


class CannotSaveClient(Refusal):
    """A client's details cannot be kept as they are."""


class CannotSaveSite(Refusal):
    """A site's details cannot be kept as they are."""


@transaction.atomic
def add_client(
    *, firm: Firm, name: str, email: str, phone: str, address: str, at: datetime, by: User | None
) -> Client:
    """Add someone to quote to."""
    client = Client(firm=firm, created_at=at)
    values = _tidy({"name": name, "email": email, "phone": phone, "address": address})
    _refuse_client(values)
    return _save(client, values, "add client", at, by)


@transaction.atomic
def change_client(
    *, client: Client, name: str, email: str, phone: str, address: str, at: datetime, by: User | None
) -> Client:
    """Change a client's details."""
    kept = Client.objects.select_for_update().get(pk=client.pk)
    values = _tidy({"name": name, "email": email, "phone": phone, "address": address})
    _refuse_client(values)
    return _save(kept, values, "change client", at, by)


@transaction.atomic
def add_site(
    *,
    client: Client,
    address: str,
    year_built: int | None,
    is_occupied: bool,
    storeys_to_carry: int,
    notes: str,
    at: datetime,
    by: User | None,
) -> Site:
    """Add a house of the client. year_built: None when it is not known, which counts as old."""
    values: dict[str, Value] = {
        **_tidy({"address": address, "notes": notes}),
        "year_built": year_built,
        "is_occupied": is_occupied,
        "storeys_to_carry": storeys_to_carry,
    }
    _refuse_site(values, at)
    return _save(Site(firm=client.firm, client=client), values, "add site", at, by)


@transaction.atomic
def change_site(
    *,
    site: Site,
    address: str,
    year_built: int | None,
    is_occupied: bool,
    storeys_to_carry: int,
    notes: str,
    at: datetime,
    by: User | None,
) -> Site:
    """Change what is known about a site. Quotes already made keep the figures they were made with."""
    kept = Site.objects.select_for_update().get(pk=site.pk)
    values: dict[str, Value] = {
        **_tidy({"address": address, "notes": notes}),
        "year_built": year_built,
        "is_occupied": is_occupied,
        "storeys_to_carry": storeys_to_carry,
    }
    _refuse_site(values, at)
    return _save(kept, values, "change site", at, by)


def _tidy(texts: Mapping[str, str]) -> dict[str, str]:
    """Texts without space around them, and with plain line ends."""
    return {name: text.replace("\r\n", "\n").strip() for name, text in texts.items()}


def _refuse_client(values: Mapping[str, str]) -> None:
    problems = _text_problems(Client, values)
    if not values["name"]:
        problems.append(Problem("name", "Write the client's name, as it should stand on the quote."))
    if values["email"]:
        try:
            validate_email(values["email"])
        except ValidationError:
            problems.append(
                Problem("email", "Write an e-mail address like name@example.com, or leave it empty.")
            )
    if problems:
        raise CannotSaveClient(*problems)


def _refuse_site(values: Mapping[str, Value], at: datetime) -> None:
    problems = _text_problems(Site, {name: text for name, text in values.items() if isinstance(text, str)})
    if not values["address"]:
        problems.append(Problem("address", "Write the address of the house where the work is."))
    year, last = values["year_built"], timezone.localtime(at).year + 1
    if isinstance(year, int) and not OLDEST_YEAR <= year <= last:
        hint = f"The year must lie between {OLDEST_YEAR} and {last}. Leave it empty when it is not known."
        problems.append(Problem("year_built", hint))
    storeys = values["storeys_to_carry"]
    if not isinstance(storeys, int) or not 0 <= storeys <= MOST_STOREYS:
        hint = f"Flights of stairs must be a whole number from 0 to {MOST_STOREYS}."
        problems.append(Problem("storeys_to_carry", hint))
    if problems:
        raise CannotSaveSite(*problems)


def _text_problems(model: type[Client] | type[Site], texts: Mapping[str, str]) -> list[Problem]:
    problems = []
    for name, text in texts.items():
        longest = getattr(model._meta.get_field(name), "max_length", None)
        if longest is not None and len(text) > longest:
            problems.append(Problem(name, f"Shorten this to {longest} characters; it has {len(text)}."))
        if "\0" in text:
            problems.append(Problem(name, "Remove the null character; only readable text can be kept."))
    return problems


def _save[RowT: (Client, Site)](
    row: RowT, values: Mapping[str, Value], action: str, at: datetime, by: User | None
) -> RowT:
    """Write the values, and an audit line with the old and new of each that changed; none, no line."""
    is_new = row.pk is None
    changed = {name: [getattr(row, name), new] for name, new in values.items() if getattr(row, name) != new}
    if not is_new and not changed:
        return row
    for name, value in values.items():
        setattr(row, name, value)
    row.save()
    detail = {"id": row.pk} if is_new else {"id": row.pk, "changed": changed}
    subject = str(row)[:160]
    AuditLine.objects.create(firm=row.firm, at=at, by=by, action=action, subject=subject, detail=detail)
    return row
