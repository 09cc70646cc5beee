"""What the rooms form holds: read from a post or from a quote, priced live, made into a quote."""

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from django.http import QueryDict

from labour.engine.refusal import Problem, Refusal
from labour.firm.access import get_of
from labour.firm.models import Firm, Units, User
from labour.plan.queries import list_templates
from quoting.clients.models import Site
from quoting.engine.measure.room_format import FORMAT, MOST_ROOMS, ROOMS_FILE
from quoting.engine.measure.rooms_file import BadRooms, RoomsFile, load_document, read_rooms
from quoting.measure.form_paths import clashes_in, document_from
from quoting.measure.queries import list_definitions
from quoting.measure.room_form import form_holds, rooms_form, without_emptied_rows
from quoting.offer.models import Quote
from quoting.offer.queries import list_sites_to_choose
from quoting.offer.rooms_quote import quote_rooms_file
from quoting.offer.services import QuoteDraft, change_quote, create_quote, draft_of
from quoting.takeoff.queries import ScopeChoice

_MORE_ROWS = 2
_CLASH = "This is filled in twice: keep one value, or its parts, and empty the other."


class BadQuoteForm(Refusal):
    """The rooms form lacks something, or holds what can not be used."""


@dataclass(frozen=True, slots=True)
class RoomsPage:
    """The rooms form as it stands. text: the rooms file when it is edited as text. more: only redraw it."""

    firm: Firm
    document: Mapping[str, Any]
    title: str = ""
    template: str = ""
    site: Site | None = None
    quote: Quote | None = None
    text: str = ""
    more: bool = False
    spare: Mapping[str, int] = field(default_factory=dict)
    clashes: tuple[str, ...] = ()

    @property
    def is_begun(self) -> bool:
        """Whether there is anything to price: a quote, or something typed."""
        return bool(self.quote or self.text or self.template or any(self.document.get("rooms", ())))

    @property
    def has_rooms(self) -> bool:
        """Whether there is more than one room."""
        return len(self.document.get("rooms", ())) > 1

    def rooms_file(self) -> RoomsFile:
        """The rooms, read and checked; a new client is not read when a site was chosen. Raise BadRooms."""
        if self.text:
            return read_rooms(load_document(self.text))
        if self.clashes:
            raise BadRooms(*(Problem(name, _CLASH) for name in self.clashes))
        unread = ("client", "site") if self.site is not None and self.quote is None else ()
        return read_rooms({name: part for name, part in self.document.items() if name not in unread})

    def has_client(self) -> bool:
        """Whether the form, or the rooms file in it, says anything of a client."""
        document = load_document(self.text) if self.text else self.document
        return isinstance(document, Mapping) and "client" in document

    def draft(self) -> QuoteDraft:
        """What a quote is made from; a draft keeps its options, changes and discount."""
        rooms = self.rooms_file()
        by_room = {room.name: room.template for room, _ in rooms.rooms if room.template}
        if self.quote is None:
            return QuoteDraft(self.title, rooms, ScopeChoice(self.template, by_room))
        kept = draft_of(self.quote)
        choice = ScopeChoice(self.template, by_room, kept.choice.options)
        return QuoteDraft(self.title, rooms, choice, kept.changes, kept.discount)

    def context(self, problems: Iterable[Problem] = ()) -> dict[str, Any]:
        """What the form's template is given."""
        templates = tuple((template.slug, template.name) for template in list_templates(self.firm))
        form = rooms_form(self.document, problems, self.spare, templates)
        return {
            "page": self,
            "form": form,
            "rooms": () if self.text else form.rooms,
            "templates": templates,
            "sites": list_sites_to_choose(self.firm),
            "problems": form.problems,
        }


def blank_page(firm: Firm, site_id: str) -> RoomsPage:
    """An empty form, for a site when one is named."""
    return RoomsPage(firm, {"rooms": [{}]}, site=_find_site(firm, site_id))


def _find_site(firm: Firm, site_id: str) -> Site | None:
    return get_of(Site, firm, "client", pk=int(site_id)) if site_id.isdecimal() else None


def page_of(quote: Quote) -> RoomsPage:
    """The form with a draft's rooms; as text when they hold more than the form shows."""
    document = _headed(quote.firm, {"rooms": list_definitions(quote.survey)})
    text = "" if form_holds(document) else json.dumps(document, indent=2, ensure_ascii=False)
    site, scope = quote.survey.site, quote.scope
    return RoomsPage(quote.firm, document, quote.title, scope["template"], site, quote, text)


def read_posted(firm: Firm, post: QueryDict, quote: Quote | None = None) -> RoomsPage:
    """The form as it was posted."""
    more, drop = post.get("more", ""), post.get("drop", "")
    # "site" is the choice of a site; the document's own site comes in parts, "site.address" and so on.
    names = (name for name in post if name != "site" and not (drop and name.startswith(f"{drop}.")))
    kept = {name: post.getlist(name) for name in names}
    document = _headed(firm, without_emptied_rows(document_from(kept, ROOMS_FILE)))
    rooms = document.setdefault("rooms", [{}])
    if isinstance(rooms, list) and more == "rooms" and len(rooms) < MOST_ROOMS:
        rooms.append({})
    site = quote.survey.site if quote is not None else _find_site(firm, post.get("site", ""))
    return RoomsPage(
        firm=firm,
        document=document,
        title=post.get("title", "").strip(),
        template=post.get("template", ""),
        site=site,
        quote=quote,
        text=post.get("text", ""),
        more=bool(more or drop),
        spare={more: _MORE_ROWS} if more else {},
        clashes=tuple(clashes_in(kept)),
    )


def _headed(firm: Firm, document: dict[str, Any]) -> dict[str, Any]:
    units = "metric" if firm.units == Units.METRIC else "us"
    return {"format": FORMAT, "units": units} | document


def create_from(page: RoomsPage, *, at: datetime, by: User | None) -> Quote:
    """Make the quote that the form describes, with a new client and site when none was chosen."""
    _refuse_gaps(page)
    if page.site is not None:
        return create_quote(firm=page.firm, site=page.site, draft=page.draft(), at=at, by=by)
    return quote_rooms_file(firm=page.firm, draft=page.draft(), at=at, by=by)


def change_from(page: RoomsPage, quote: Quote, *, at: datetime, by: User | None) -> Quote:
    """Give the draft what the form describes."""
    _refuse_gaps(page)
    return change_quote(firm=page.firm, quote_id=quote.pk, draft=page.draft(), at=at, by=by)


def _refuse_gaps(page: RoomsPage) -> None:
    """Name all that is missing or wrong at once: what the quote needs, and every problem of its rooms."""
    problems = []
    if not page.title:
        problems.append(Problem("title", "Write a title, as the client should read it."))
    if page.site is None and not page.has_client():
        problems.append(Problem("client.name", "Choose a site, or write the new client's name."))
    try:
        rooms = page.rooms_file().rooms
    except Refusal as refusal:
        raise BadQuoteForm(*problems, *refusal.problems) from None
    if not page.template and not all(room.template for room, _ in rooms):
        problems.append(Problem("template", "Choose the scope template: it says what work is done."))
    if problems:
        raise BadQuoteForm(*problems)
