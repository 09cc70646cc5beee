"""./run demo: the demo firm, served; with --once its papers are written to a folder instead."""

import json
import os
import sys
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError
from django.utils import timezone

from labour.engine.refusal import Refusal
from labour.firm.models import Firm
from quoting.offer.paper import quote_document
from quoting.overview.demo import (
    get_closed_job,
    get_main_contract,
    get_main_quote,
    load_demo_firm,
    read_scenario,
)
from quoting.overview.demo_closed import write_closeout
from quoting.overview.demo_papers import list_papers_to_write
from quoting.overview.jobs import account_document


class Command(BaseCommand):
    """Migrate, load the demo firm, then serve it or write its papers."""

    help = "Load the demo firm and serve the web app, or write its papers with --once."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--once", action="store_true", help="write the papers and stop")
        parser.add_argument("--out", type=Path, help="folder for the papers (with --once)")
        parser.add_argument("--port", type=int, default=8000)

    def handle(self, *args: Any, **options: Any) -> None:
        if options["once"] and options["out"] is None:
            raise CommandError("--once needs --out DIR, the folder for the papers.")
        call_command("migrate", verbosity=0)
        try:
            firm = load_demo_firm(at=timezone.now())
        except Refusal as refusal:
            raise CommandError("\n".join(map(str, refusal.problems))) from refusal
        if not options["once"]:
            self._serve(options["port"])
            return
        try:
            self._write_papers(firm, options["out"])
        except OSError as error:
            raise CommandError(f"{error.filename}: {error.strerror}") from error

    def _write_papers(self, firm: Firm, out: Path) -> None:
        out.mkdir(parents=True, exist_ok=True)
        quote = get_main_quote(firm)
        contract = get_main_contract(firm)
        papers = list_papers_to_write(contract)
        for name, paper in papers.items():
            (out / name).write_bytes(bytes(paper.pdf))
        for name, document in (("quote", quote_document(quote)), ("job", account_document(contract))):
            text = json.dumps(document, indent=2, ensure_ascii=False)
            (out / f"{name}.json").write_text(text + "\n", encoding="utf-8")
        write_closeout(firm, get_closed_job(firm), out)
        names = ", ".join([*papers, "closeout.pdf", "quote.json", "job.json"])
        self.stdout.write(f"Wrote {names} and closeout.json to {out}")

    def _serve(self, port: int) -> None:
        scenario = read_scenario()
        self.stdout.write(f"\n  Screedbook  http://127.0.0.1:{port}/\n")
        for person in scenario["person"]:
            self.stdout.write(f"  log in as {person['role']:<7} {person['email']:<22} {scenario['password']}")
        self.stdout.write("\n  Stop with Ctrl-C.\n")
        self.stdout.flush()
        server = [sys.executable, "-m", "gunicorn", "quoting.wsgi", "--bind", f"127.0.0.1:{port}"]
        os.execv(sys.executable, [*server, "--threads", "4", "--log-level", "warning"])  # noqa: S606
