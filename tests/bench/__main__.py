"""./run bench NAME: measures in one run and prints one JSON object as its last line."""

import json
import os
import sys
import tempfile

os.environ["SCREEDBOOK_DATA"] = tempfile.mkdtemp(prefix="screedbook-bench-")
os.environ["EMAIL_BACKEND"] = "django.core.mail.backends.dummy.EmailBackend"
os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.bench.settings")


def main(arguments: list[str]) -> int:
    """Run the named bench."""
    import django

    django.setup()
    from tests.bench.papers import measure_papers
    from tests.bench.quote import measure_quote

    benches = {"quote": measure_quote, "papers": measure_papers}
    if len(arguments) != 1 or arguments[0] not in benches:
        print(f"Name one bench: {', '.join(benches)}")
        return 2
    print(json.dumps(benches[arguments[0]]()))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
