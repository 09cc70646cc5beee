"""The app that knows prices and papers."""

from django.apps import AppConfig


class QuotingConfig(AppConfig):
    name = "quoting"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Register the system check for the libraries that make PDFs."""
        from quoting.documents import checks  # noqa: F401
