"""Tables of past jobs that a firm brought in, and the jobs that came of them."""

from django.db import models

from labour.firm.models import FirmRow, User
from labour.work.models import Job


class PastTable(FirmRow):
    """A table as it was brought in. header, rows: its cells as text. matching: how it is to be read.

    taken_at: when its good rows were taken; left: rows that were not, with their reasons, as they were then.
    """

    name = models.CharField(max_length=120)
    header = models.JSONField()
    rows = models.JSONField()
    matching = models.JSONField(default=dict)
    brought_at = models.DateTimeField()
    brought_by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, related_name="+")
    taken_at = models.DateTimeField(null=True, blank=True)
    left = models.JSONField(default=list)

    def __str__(self) -> str:
        return self.name


class PastJob(FirmRow):
    """A job that came out of a table. price: what it was sold for without tax, where the table says so."""

    table = models.ForeignKey(PastTable, on_delete=models.PROTECT, null=True, related_name="jobs")
    job = models.OneToOneField(Job, on_delete=models.CASCADE, related_name="past")
    price = models.DecimalField(max_digits=12, decimal_places=2, null=True, blank=True)

    def __str__(self) -> str:
        return f"past {self.job}"
