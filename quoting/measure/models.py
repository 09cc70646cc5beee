"""Measured rooms, as they were written down."""

from django.db import models

from labour.firm.models import FirmRow
from quoting.clients.models import Site


class Survey(FirmRow):
    """One measuring of a site: the rooms that a quote is made from."""

    site = models.ForeignKey(Site, on_delete=models.PROTECT, related_name="surveys")
    measured_on = models.DateField()

    def __str__(self) -> str:
        return f"{self.site}, measured {self.measured_on}"


class RoomRow(models.Model):
    """A room of a survey. definition: one room of the rooms file format, lengths as they were typed."""

    survey = models.ForeignKey(Survey, on_delete=models.CASCADE, related_name="rooms")
    position = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=80)
    definition = models.JSONField()

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(fields=["survey", "position"], name="room_position_once"),
            models.UniqueConstraint(fields=["survey", "name"], name="room_name_once"),
        ]

    def __str__(self) -> str:
        return self.name
