"""Issued papers, kept byte for byte, and the series that number them."""

from django.db import models
from django.db.models import Q

from labour.firm.models import FirmRow


class NumberSeries(FirmRow):
    """A gapless series of numbers; the row is locked while a number is taken."""

    code = models.CharField(max_length=20)
    next_number = models.PositiveIntegerField(default=1)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["firm", "code"], name="series_once_a_firm")]

    def __str__(self) -> str:
        return f"{self.code} {self.next_number}"


class IssuedPaper(FirmRow):
    """A document as it was issued. These bytes are what is served ever after."""

    kind = models.CharField(max_length=20)
    number = models.CharField(max_length=40)
    pdf = models.BinaryField()
    sha256 = models.CharField(max_length=64)
    fingerprint = models.JSONField()
    issued_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["firm", "kind", "number"], name="paper_number_once_a_kind"),
            models.CheckConstraint(condition=~Q(sha256=""), name="paper_has_its_hash"),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.number}"
