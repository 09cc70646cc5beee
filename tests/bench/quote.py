"""How long a quote takes: engine, database, workbook, paper, pages."""

import gc
import shutil
import statistics
import subprocess
import tempfile
import time
from collections.abc import Sequence
from itertools import islice, zip_longest
from pathlib import Path
from typing import Any

from django.core.management import call_command
from django.utils import timezone

from labour.firm.models import Firm
from quoting.engine.estimate import Changes, estimate
from quoting.engine.measure.rooms_file import load_document, read_rooms
from quoting.engine.pricing.build_up import build_price
from quoting.engine.pricing.values import CostLine, Discount
from quoting.offer.queries import estimate_rooms, figures_for, get_books
from quoting.overview.demo import DEMO, load_demo_firm
from quoting.takeoff.queries import ScopeChoice, get_room_scopes
from tests.bench.formulas_workbook import build_workbook, calculate_with_formulas
from tests.bench.pages import measure_pages
from tests.bench.pdf import measure_pdf
from tests.bench.timing import median_seconds

ROOMS = DEMO / "rooms-three-rooms.json"
TEMPLATE = "guest-bath-refresh"


def measure_quote() -> dict[str, Any]:
    """Every figure of the quote bench; milliseconds unless the name says otherwise."""
    call_command("migrate", verbosity=0)
    firm = load_demo_firm(at=timezone.now())
    # Papers first: the compiled workbook would leave a heap behind that slows every later collection.
    papers = measure_pdf()
    return _measure_engine(firm) | papers | measure_pages(firm)


def _measure_engine(firm: Firm) -> dict[str, Any]:
    """Pricing of 80 lines in three rooms, the whole estimate of those rooms, and the same with the database.

    The workbook holds the arithmetic of `build_price`, so `engine_ms` is what it is compared with. The
    garbage collector rests while timing: the compiled workbook keeps a million objects alive here.
    """
    text = ROOMS.read_bytes()
    choice, nothing, none_off = ScopeChoice(TEMPLATE), Changes(), Discount()
    rooms_file = read_rooms(load_document(text))
    scopes = get_room_scopes(firm, rooms_file.house, [room for room, _ in rooms_file.rooms], choice)
    books = get_books(firm)
    priced = estimate(scopes, books, nothing, none_off)
    cost_lines = eighty_lines([priced_line.line for priced_line in priced.price.lines])

    def offer() -> object:
        read = read_rooms(load_document(text))
        rooms = [room for room, _ in read.rooms]
        return figures_for(
            firm, read.house, estimate_rooms(firm, read.house, rooms, choice, nothing, none_off)
        )

    with tempfile.TemporaryDirectory() as folder:
        workbook = Path(folder) / "quote.xlsx"
        build_workbook(cost_lines, books.policy, workbook)
        recalculate = calculate_with_formulas(workbook)
        gc.collect()
        gc.freeze()
        seconds = median_seconds(
            {
                "engine": lambda: build_price(cost_lines, books.policy, none_off),
                "estimate": lambda: estimate(scopes, books, nothing, none_off),
                "offer": offer,
                "formulas": recalculate,
            },
            rounds=9,
        )
        office = _headless_recalculation(workbook)
        gc.unfreeze()
    return {
        "rooms": len({line.room for line in cost_lines}),
        "lines": len(cost_lines),
        "engine_ms": round(seconds["engine"] * 1000, 2),
        "estimate_lines": len(priced.works),
        "estimate_ms": round(seconds["estimate"] * 1000, 2),
        "offer_ms": round(seconds["offer"] * 1000, 2),
        "formulas_ms": round(seconds["formulas"] * 1000, 2),
        "times_faster": round(seconds["formulas"] / seconds["engine"], 1),
    } | office


def eighty_lines(lines: Sequence[CostLine]) -> list[CostLine]:
    """80 of the lines, taken in turn from each room."""
    rooms = [[line for line in lines if line.room == room] for room in dict.fromkeys(x.room for x in lines)]
    in_turn = (line for group in zip_longest(*rooms) for line in group if line is not None)
    return list(islice(in_turn, 80))


def _headless_recalculation(workbook: Path) -> dict[str, float]:
    """LibreOffice opening, calculating and saving the same workbook, program start included."""
    program = shutil.which("soffice") or shutil.which("libreoffice")
    if program is None:
        return {}
    seconds = []
    with tempfile.TemporaryDirectory() as folder:
        profile = f"-env:UserInstallation=file://{folder}/profile"
        command = [program, profile, "--headless", "--convert-to", "csv", "--outdir", folder, str(workbook)]
        for _ in range(4):
            start = time.perf_counter()
            subprocess.run(command, check=True, capture_output=True)
            seconds.append(time.perf_counter() - start)
    return {"headless_recalculation_ms": round(statistics.median(seconds[1:]) * 1000, 1)}
