"""./run quote ROOMS.json --template SLUG: a rooms file in, a priced quote out, nothing kept."""

import json
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.db import transaction
from django.utils import timezone

from labour.engine.refusal import Refusal
from labour.firm.models import Firm
from quoting.engine.measure.rooms_file import load_document, read_rooms
from quoting.offer.models import Quote
from quoting.offer.paper import quote_document, render_quote
from quoting.offer.rooms_quote import quote_rooms_file
from quoting.offer.services import QuoteDraft
from quoting.overview.demo import load_demo_firm
from quoting.takeoff.queries import ScopeChoice


class Command(BaseCommand):
    """Price a rooms file with a firm's books; the demo firm's unless one is named."""

    help = "Price a rooms file with a scope template; nothing is kept."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("rooms", type=Path, help="a rooms file (JSON)")
        parser.add_argument(
            "--template", default="", help="slug of the scope template, instead of those named in the file"
        )
        parser.add_argument("--firm", default="", help="name of the firm whose books are used")
        parser.add_argument("--option", action="append", default=[], help="an option to take into the price")
        parser.add_argument("--pdf", type=Path, help="write the quote's paper here")
        parser.add_argument("--json", type=Path, help="write the figures here")

    def handle(self, *args: Any, **options: Any) -> None:
        call_command("migrate", verbosity=0)
        try:
            with transaction.atomic():
                self._write(self._make(options), options)
                transaction.set_rollback(True)
        except Refusal as refusal:
            raise CommandError("\n".join(map(str, refusal.problems))) from refusal
        except OSError as error:
            raise CommandError(f"{error.filename}: {error.strerror}") from error

    def _make(self, options: dict[str, Any]) -> Quote:
        at = timezone.now()
        rooms = read_rooms(load_document(options["rooms"].read_bytes()))
        names = [room.name for room, _ in rooms.rooms]
        by_room = dict.fromkeys(names, options["template"]) if options["template"] else {}
        choice = ScopeChoice("", by_room, frozenset(options["option"]))
        draft = QuoteDraft(title=", ".join(names)[:120], rooms=rooms, choice=choice)
        return quote_rooms_file(firm=self._firm(options["firm"]), draft=draft, at=at, by=None)

    def _firm(self, name: str) -> Firm:
        if not name:
            return load_demo_firm(at=timezone.now())
        firm = Firm.objects.filter(name=name).first()
        if firm is None:
            raise CommandError(f"There is no firm called “{name}”.")
        return firm

    def _write(self, quote: Quote, options: dict[str, Any]) -> None:
        document = quote_document(quote)
        if options["pdf"]:
            options["pdf"].write_bytes(render_quote(quote, timezone.now()))
        if options["json"]:
            text = json.dumps(document, indent=2, ensure_ascii=False)
            options["json"].write_text(text + "\n", encoding="utf-8")
        for phase in quote.figures["client_view"]["phases"]:
            self.stdout.write(f"{phase['label']:<40} {phase['amount']:>12}")
        for tax in document["taxes"]:
            self.stdout.write(f"{tax['name']:<40} {tax['amount']:>12}")
        self.stdout.write(f"{'Total':<40} {document['total']:>12}")
        for name in document["firm_view"]["missing_prices"]:
            self.stdout.write(f"No price: {name}")
