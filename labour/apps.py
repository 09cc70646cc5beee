"""The app that knows hours."""

from django.apps import AppConfig


class LabourConfig(AppConfig):
    name = "labour"
    default_auto_field = "django.db.models.BigAutoField"
