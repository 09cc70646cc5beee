"""./run bench NAME: measures in one run and prints one JSON object as its last line.

`learning` takes --quick: fewer firms, under two minutes.
"""

import json
import os
import sys
import tempfile
from typing import Any

NAMES = ("quote", "papers", "learning")


def main(arguments: list[str]) -> int:
    """Run the named bench."""
    name, options = (arguments or [""])[0], arguments[1:]
    if name not in NAMES or options not in ([], ["--quick"]) or (options and name != "learning"):
        print(f"Name one bench: {', '.join(NAMES)}; learning also takes --quick.")
        return 2
    figures = measure_learning(options) if name == "learning" else measure_with_database(name)
    print(json.dumps(figures))
    return 0


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
