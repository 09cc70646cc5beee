"""./run manage takeoff ROOMS.json: a rooms file in; layouts, packs and drawings out, nothing kept."""

import json
from argparse import ArgumentParser
from decimal import Decimal
from pathlib import Path
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from labour.engine.refusal import Refusal
from labour.firm.models import Firm
from quoting.documents.letterhead import letterhead_of
from quoting.engine.layout.search import Wish
from quoting.engine.measure.rooms_file import load_document, read_rooms
from quoting.engine.takeoff import Takeoff, TakeoffBooks, Wanted, take_off
from quoting.engine.taking_off.document import document_of
from quoting.engine.taking_off.drawings import drawings_of
from quoting.engine.taking_off.table import table_of
from quoting.takeoff.books import get_takeoff_books, read_starting_books
from quoting.takeoff.setting_out import NO_FIRM, setting_out_pdf


class Command(BaseCommand):
    """Lay out and count a rooms file; without --firm the starting books are used and no database is asked."""

    help = "Count a rooms file: quantities, tile layouts, materials in packs; nothing is kept."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("rooms", type=Path, help="a rooms file (JSON)")
        parser.add_argument("--json", type=Path, help="write everything that was counted here")
        parser.add_argument("--svg", type=Path, help="folder for the drawings, one file each")
        parser.add_argument("--pdf", type=Path, help="write the crew's setting-out sheet here")
        parser.add_argument("--firm", default="", help="name of the firm whose books are used")
        parser.add_argument("--attic", type=float, default=0.0, help="percent of tiles bought on top")
        parser.add_argument("--compare", action="store_true", help="say what other layouts would take")
        parser.add_argument("--wish", choices=list(map(str, Wish)), default=str(Wish.TRADE))

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            firm = self._find_firm(options["firm"])
            self._write(self._take_off(firm, options), firm, options)
        except Refusal as refusal:
            raise CommandError("\n".join(map(str, refusal.problems))) from refusal
        except OSError as error:
            raise CommandError(f"{error.filename}: {error.strerror}") from error

    def _find_firm(self, name: str) -> Firm | None:
        if not name:
            return None
        call_command("migrate", verbosity=0)
        firm = Firm.objects.filter(name=name).first()
        if firm is None:
            raise CommandError(f"There is no firm called “{name}”.")
        return firm

    def _take_off(self, firm: Firm | None, options: dict[str, Any]) -> Takeoff:
        rooms = read_rooms(load_document(options["rooms"].read_bytes()))
        books: TakeoffBooks = get_takeoff_books(firm) if firm else read_starting_books()
        attic = float(Decimal(str(options["attic"])) / 100)
        return take_off(rooms, books, Wanted(Wish(options["wish"]), options["compare"], attic=attic))

    def _write(self, takeoff: Takeoff, firm: Firm | None, options: dict[str, Any]) -> None:
        document = document_of(takeoff)
        if options["json"]:
            text = json.dumps(document, indent=2, ensure_ascii=False)
            options["json"].write_text(text + "\n", encoding="utf-8")
        if options["svg"]:
            options["svg"].mkdir(parents=True, exist_ok=True)
            for drawing in drawings_of(takeoff):
                (options["svg"] / f"{drawing.name}.svg").write_text(drawing.svg + "\n", encoding="utf-8")
        if options["pdf"]:
            head = letterhead_of(firm) if firm else NO_FIRM
            paper = firm.paper if firm else "letter"
            options["pdf"].write_bytes(setting_out_pdf(takeoff, head, paper=paper, at=timezone.now()))
        for line in table_of(document):
            self.stdout.write(line)
