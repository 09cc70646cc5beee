"""./run bench NAME: measures in one run and prints one JSON object as its last line.

`learning` takes --quick: fewer firms, under two minutes. `takeoff` takes --chart FILE: its chart as SVG, or
--usual: instead of measuring, the table of usual cutting for labour/engine/usual_cuts.py.
"""

import json
import os
import sys
import tempfile
from pathlib import Path
from typing import Any

NAMES = ("quote", "papers", "learning", "takeoff")


def main(arguments: list[str]) -> int:
    """Run the named bench."""
    name, options = (arguments or [""])[0], arguments[1:]
    if name not in NAMES or not _has_options(name, options):
        takes = "learning also takes --quick, takeoff --chart FILE or --usual"
        print(f"Name one bench: {', '.join(NAMES)}; {takes}.")
        return 2
    measures = {"learning": measure_learning, "takeoff": measure_takeoff}
    figures = measures[name](options) if name in measures else measure_with_database(name)
    print(json.dumps(figures))
    return 0


def _has_options(name: str, options: list[str]) -> bool:
    """Whether the bench takes these."""
    if name == "takeoff" and options[:1] == ["--chart"]:
        return len(options) == 2
    return not options or (name, options) in (("learning", ["--quick"]), ("takeoff", ["--usual"]))


def measure_takeoff(options: list[str]) -> dict[str, Any]:
    """Tile layouts, which need no Django."""
    from tests.bench.flat_chart import draw_bands
    from tests.bench.takeoff import measure_takeoff as measure

    if options == ["--usual"]:
        from tests.bench.usual_cuts import print_usual

        return print_usual()
    figures = measure()
    if options:
        Path(options[1]).write_text(draw_bands(figures["flat10_bands"], figures["flat10_fewest_bands"]))
    return figures


def measure_learning(options: list[str]) -> dict[str, Any]:
    """The labour model, which needs no Django; one thread of linear algebra for it and its references."""
    for library in ("OMP", "OPENBLAS", "MKL"):
        os.environ[f"{library}_NUM_THREADS"] = "1"
    from tests.bench.learning.measure import measure_learning as measure

    return measure(options)


def measure_with_database(name: str) -> dict[str, Any]:
    """A bench that reads and writes a firm's books, in a database of its own."""
    os.environ["SCREEDBOOK_DATA"] = tempfile.mkdtemp(prefix="screedbook-bench-")
    os.environ["EMAIL_BACKEND"] = "django.core.mail.backends.dummy.EmailBackend"
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.bench.settings")
    import django

    django.setup()
    from tests.bench.papers import measure_papers
    from tests.bench.quote import measure_quote

    return {"quote": measure_quote, "papers": measure_papers}[name]()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
