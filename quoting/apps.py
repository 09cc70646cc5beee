"""The app that knows prices and papers."""

from django.apps import AppConfig


class QuotingConfig(AppConfig):
    name = "quoting"
    default_auto_field = "django.db.models.BigAutoField"
