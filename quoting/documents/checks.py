"""System check: says which package is missing before the first paper fails."""

from typing import Any

from django.core.checks import CheckMessage, Warning, register

from quoting.documents.libraries import list_missing_packages


@register()
def check_pdf_libraries(**_: Any) -> list[CheckMessage]:
    """One warning that names every missing Debian package, or none."""
    missing = list_missing_packages()
    if not missing:
        return []
    return [
        Warning(
            f"Quotes cannot be made into PDFs: {', '.join(missing)} is not installed.",
            hint=f"Install it with the system's package manager: apt-get install {' '.join(missing)}",
            id="documents.W001",
        )
    ]
