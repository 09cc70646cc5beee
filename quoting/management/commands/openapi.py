"""./run manage openapi: writes the committed description of the API anew."""

import json
from typing import Any

from django.core.management.base import BaseCommand

from quoting.api import api
from quoting.overview.reference import DESCRIPTION


def description_text() -> str:
    """The description as the file holds it."""
    return json.dumps(api.get_openapi_schema(), indent=2, ensure_ascii=False) + "\n"


class Command(BaseCommand):
    """Write quoting/openapi.json."""

    help = "Write the description of the API (quoting/openapi.json) anew."

    def handle(self, *args: Any, **options: Any) -> None:
        DESCRIPTION.write_text(description_text(), encoding="utf-8")
        self.stdout.write(
            f"Wrote {DESCRIPTION.name} with {len(api.get_openapi_schema()['paths'])} addresses."
        )
