"""Issued papers, kept byte for byte, the series that number them, and letters that carry them."""

from django.db import models
from django.db.models import Q

from labour.firm.models import FirmRow, User


class NumberSeries(FirmRow):
    """A gapless series of numbers; the row is locked while a number is taken."""

    code = models.CharField(max_length=20)
    next_number = models.PositiveIntegerField(default=1)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["firm", "code"], name="series_once_a_firm")]

    def __str__(self) -> str:
        return f"{self.code} {self.next_number}"


class IssuedPaper(FirmRow):
    """A document as it was issued. These bytes are what is served ever after.

    template, context: what it was made from. attached: [{"name", "sha256"}] of the files in it.
    unsealed_length: when it is sealed, how many of its first bytes are the paper before the seal.
    """

    kind = models.CharField(max_length=20)
    number = models.CharField(max_length=40)
    pdf = models.BinaryField()
    sha256 = models.CharField(max_length=64)
    unsealed_length = models.PositiveIntegerField(null=True, blank=True)
    fingerprint = models.JSONField()
    template = models.CharField(max_length=80, default="")
    context = models.JSONField(default=dict)
    attached = models.JSONField(default=list)
    issued_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["firm", "kind", "number"], name="paper_number_once_a_kind"),
            models.CheckConstraint(condition=~Q(sha256=""), name="paper_has_its_hash"),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.number}"


class LetterStatus(models.TextChoices):
    """Where a letter stands."""

    DRAFT = "draft", "Drafted"
    WAITING = "waiting", "To be sent"
    SENT = "sent", "Sent"
    FAILED = "failed", "Could not be sent"


class Letter(FirmRow):
    """An e-mail of the firm with its papers. A draft goes out only when a person says so.

    about: the kind and number that it speaks of, such as "invoice I-0004". error: why it could not be sent.
    """

    about = models.CharField(max_length=80)
    to = models.JSONField(default=list)
    subject = models.CharField(max_length=160)
    body = models.TextField(max_length=8000)
    papers = models.ManyToManyField(IssuedPaper, related_name="letters")
    status = models.CharField(max_length=8, choices=LetterStatus)
    created_at = models.DateTimeField()
    created_by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, related_name="+")
    tried_at = models.DateTimeField(null=True, blank=True)
    error = models.CharField(max_length=300, blank=True)

    class Meta:
        indexes = [models.Index(fields=["firm", "about"], name="letter_firm_about")]

    def __str__(self) -> str:
        return f"{self.subject} ({self.status})"
