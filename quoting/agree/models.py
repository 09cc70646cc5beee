"""What was agreed: the client's link to an offer, the signature under it, and the contract that follows."""

from datetime import datetime

from django.db import models
from django.db.models import Q

from labour.firm.models import FirmRow, User
from labour.work.models import Job
from quoting.clients.models import Client
from quoting.documents.models import IssuedPaper
from quoting.offer.models import Quote


class ClientLink(FirmRow):
    """Base of a private address by which a client without an account sees one thing of theirs.

    The token is signed, not stored. nonce: makes tokens of different rows unlike.
    """

    nonce = models.CharField(max_length=32)
    created_at = models.DateTimeField()
    created_by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, related_name="+")
    expires_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)
    first_opened_at = models.DateTimeField(null=True, blank=True)
    last_opened_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        abstract = True

    def is_open(self, at: datetime) -> bool:
        """Whether the link still works."""
        return self.revoked_at is None and at < self.expires_at


class Signed(FirmRow):
    """Base of a client's signature under a paper.

    signature: {"typed": text} or {"drawn": [[[x, y], …] stroke, …]} (0–1000 wide, 0–300 high), or
    {"on_paper": text} when the office records what was signed by hand. shown_sha256: hash of the exact paper.
    wording: the sentence that was accepted. address: network address it came from.
    """

    name = models.CharField(max_length=120)
    signature = models.JSONField()
    wording = models.TextField(max_length=2000)
    signed_at = models.DateTimeField()
    address = models.CharField(max_length=60, blank=True)
    browser = models.CharField(max_length=200, blank=True)
    shown_sha256 = models.CharField(max_length=64)
    executed = models.ForeignKey(IssuedPaper, on_delete=models.PROTECT, related_name="+")
    recorded_by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, blank=True, related_name="+")

    class Meta:
        abstract = True


class OfferLink(ClientLink):
    """A client's private address of one quote."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="links")

    def __str__(self) -> str:
        return f"link to {self.quote}"


class Acceptance(Signed):
    """A quote that the client accepted, with the options taken. total: with them and with tax."""

    quote = models.OneToOneField(Quote, on_delete=models.PROTECT, related_name="acceptance")
    options = models.JSONField(default=list)
    total = models.DecimalField(max_digits=12, decimal_places=2)

    def __str__(self) -> str:
        return f"{self.quote} accepted by {self.name}"


class Billing(models.TextChoices):
    """How a job is billed."""

    MILESTONES = "milestones", "By milestone"
    PROGRESS = "progress", "By percent complete"


class Contract(FirmRow):
    """What a job is done for. quote_total: the accepted total with options and tax; changes come on top."""

    job = models.OneToOneField(Job, on_delete=models.PROTECT, related_name="contract")
    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="contracts")
    acceptance = models.OneToOneField(Acceptance, on_delete=models.PROTECT, related_name="contract")
    quote_total = models.DecimalField(max_digits=12, decimal_places=2)
    billing = models.CharField(max_length=12, choices=Billing, default=Billing.MILESTONES)
    retainage_percent = models.DecimalField(max_digits=5, decimal_places=2, default=0)
    agreed_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(retainage_percent__gte=0, retainage_percent__lt=100),
                name="contract_retainage_sane",
            ),
        ]

    def __str__(self) -> str:
        return f"contract of {self.job}"


class PartKind(models.TextChoices):
    """Where a part of the contract sum comes from."""

    QUOTE = "quote", "Quote"
    OPTION = "option", "Option"
    CHANGE = "change", "Change order"


class ContractPart(models.Model):
    """A part of the contract sum, never changed once there. amounts: `Amounts.to_json`.

    items: [{"key", "label", "amount"}] that add up to the total with tax; percent complete is told by item.
    """

    contract = models.ForeignKey(Contract, on_delete=models.CASCADE, related_name="parts")
    position = models.PositiveSmallIntegerField()
    kind = models.CharField(max_length=8, choices=PartKind)
    label = models.CharField(max_length=200)
    amounts = models.JSONField()
    items = models.JSONField(default=list)
    total = models.DecimalField(max_digits=12, decimal_places=2)

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(fields=["contract", "position"], name="contract_part_position_once"),
        ]

    def __str__(self) -> str:
        return self.label


class ScheduleRow(models.Model):
    """A payment of the contract; all rows together are the contract sum. Billed rows stay as they are.

    amount: with tax; negative where a credit is still to be given. is_billed: an invoice was made of it.
    """

    contract = models.ForeignKey(Contract, on_delete=models.CASCADE, related_name="schedule")
    position = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=120)
    amount = models.DecimalField(max_digits=12, decimal_places=2)
    is_deposit = models.BooleanField(default=False)
    is_billed = models.BooleanField(default=False)

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(fields=["contract", "position"], name="schedule_position_once"),
        ]

    def __str__(self) -> str:
        return f"{self.name}: {self.amount}"


class Photo(FirmRow):
    """A picture of a job, made smaller and without where and by what it was taken."""

    contract = models.ForeignKey(Contract, on_delete=models.CASCADE, related_name="photos")
    jpeg = models.BinaryField()
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    sha256 = models.CharField(max_length=64)
    caption = models.CharField(max_length=160, blank=True)
    added_at = models.DateTimeField()
    added_by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, related_name="+")

    def __str__(self) -> str:
        return self.caption or f"photo {self.pk}"
