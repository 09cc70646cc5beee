"""Quotes: what is offered to a client, for how much."""

from datetime import date

from django.db import models
from django.db.models import Q

from labour.firm.models import FirmRow, User
from quoting.documents.models import IssuedPaper
from quoting.measure.models import Survey


class Status(models.TextChoices):
    """Where a quote stands."""

    DRAFT = "draft", "Draft"
    SENT = "sent", "Sent"
    ACCEPTED = "accepted", "Accepted"
    DECLINED = "declined", "Declined"
    SUPERSEDED = "superseded", "Superseded"


class Quote(FirmRow):
    """A quote. figures: everything that was worked out, as stored text and decimal strings.

    scope: {"template": slug, "rooms": {room name: slug}, "options": [names taken into the price]}.
    changes: what the owner altered by hand, see `quoting/engine/estimate.py`.
    first: the quote that this one revises, empty when it is the first itself. revision: from 1; its number
    ends in "-R2" from the second on. declined_why: the client's words, if any.
    """

    number = models.CharField(max_length=24)
    title = models.CharField(max_length=120)
    survey = models.ForeignKey(Survey, on_delete=models.PROTECT, related_name="quotes")
    status = models.CharField(max_length=12, choices=Status, default=Status.DRAFT)
    scope = models.JSONField()
    changes = models.JSONField(default=dict)
    discount_percent = models.DecimalField(max_digits=5, decimal_places=2, default=0)
    discount_amount = models.DecimalField(max_digits=10, decimal_places=2, default=0)
    figures = models.JSONField()
    total = models.DecimalField(max_digits=12, decimal_places=2)
    missing_prices = models.PositiveSmallIntegerField(default=0)
    created_at = models.DateTimeField()
    created_by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, related_name="+")
    priced_at = models.DateTimeField()
    sent_at = models.DateTimeField(null=True, blank=True)
    valid_until = models.DateField(null=True, blank=True)
    paper = models.ForeignKey(IssuedPaper, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    first = models.ForeignKey(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="revisions"
    )
    revision = models.PositiveSmallIntegerField(default=1)
    decided_at = models.DateTimeField(null=True, blank=True)
    declined_why = models.CharField(max_length=400, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["firm", "number"], name="quote_number_once_a_firm"),
            models.CheckConstraint(
                condition=Q(discount_percent__gte=0, discount_percent__lte=100, discount_amount__gte=0),
                name="quote_discount_sane",
            ),
            models.CheckConstraint(
                condition=Q(status=Status.DRAFT)
                | Q(sent_at__isnull=False, paper__isnull=False, missing_prices=0),
                name="sent_quote_has_paper_and_prices",
            ),
        ]
        indexes = [models.Index(fields=["firm", "-id"], name="quote_firm_newest")]

    def __str__(self) -> str:
        return f"{self.number} {self.title}"

    @property
    def is_draft(self) -> bool:
        """A draft may still be changed."""
        return self.status == Status.DRAFT

    def standing(self, on: date) -> str:
        """Where the quote stands on a day, as a code of `Status` or "expired"."""
        return "expired" if self.status == Status.SENT and self.is_expired(on) else str(self.status)

    def is_expired(self, on: date) -> bool:
        """Whether the offer had run out on a day."""
        return self.valid_until is not None and on > self.valid_until
