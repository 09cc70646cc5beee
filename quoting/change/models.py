"""Change orders: what turned up or was wished for, what it costs, and who agreed to it."""

from django.db import models
from django.db.models import Q

from labour.firm.models import FirmRow, User
from quoting.agree.models import ClientLink, Contract, Photo, Signed
from quoting.documents.models import IssuedPaper


class Reason(models.TextChoices):
    """Why the contract changes."""

    ROT = "rot", "Concealed rot"
    MOULD = "mould", "Mould"
    WIRING = "wiring", "Out-of-code wiring"
    PIPE = "pipe", "Out-of-code or failed pipe"
    FRAMING = "framing", "Framing out of true"
    WISH = "wish", "Client's wish"
    MEASURE = "measure", "Wrong measure"
    ALLOWANCE = "allowance", "Allowance settled"
    SETTLED = "settled", "Time and material settled"
    OTHER = "other", "Other"


class Pricing(models.TextChoices):
    """How the change is priced."""

    FIXED = "fixed", "Fixed price"
    NOT_TO_EXCEED = "not-to-exceed", "Time and material, not to exceed"


class ChangeStatus(models.TextChoices):
    """Where a change order stands."""

    DRAFT = "draft", "Draft"
    SENT = "sent", "Sent"
    APPROVED = "approved", "Approved"
    DECLINED = "declined", "Declined"
    WITHDRAWN = "withdrawn", "Withdrawn"


class ChangeOrder(FirmRow):
    """A change to a contract. number: job's number with "C" and its place in the job, "J-0001-C1".

    lines: what was asked for, see `quoting/engine/changing.py`. figures: the worked-out price as stored text.
    total: with tax; negative for a credit. hours: labour-hours. days: working days that it adds.
    billed_apart: as a payment of its own instead of spread over those still to come.
    started_at: when work on it began; flagged when that was before approval.
    """

    contract = models.ForeignKey(Contract, on_delete=models.PROTECT, related_name="changes")
    place = models.PositiveSmallIntegerField()
    number = models.CharField(max_length=40)
    title = models.CharField(max_length=120)
    reason = models.CharField(max_length=12, choices=Reason)
    finding = models.TextField(max_length=2000, blank=True)
    pricing = models.CharField(max_length=16, choices=Pricing, default=Pricing.FIXED)
    status = models.CharField(max_length=12, choices=ChangeStatus, default=ChangeStatus.DRAFT)
    lines = models.JSONField(default=list)
    figures = models.JSONField()
    total = models.DecimalField(max_digits=12, decimal_places=2)
    hours = models.DecimalField(max_digits=10, decimal_places=2, default=0)
    days = models.PositiveSmallIntegerField(default=0)
    billed_apart = models.BooleanField(default=False)
    started_at = models.DateTimeField(null=True, blank=True)
    created_at = models.DateTimeField()
    created_by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, related_name="+")
    sent_at = models.DateTimeField(null=True, blank=True)
    decided_at = models.DateTimeField(null=True, blank=True)
    decided_why = models.CharField(max_length=400, blank=True)
    paper = models.ForeignKey(IssuedPaper, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    photos = models.ManyToManyField(Photo, related_name="changes")

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["contract", "place"], name="change_place_once_a_job"),
            models.UniqueConstraint(fields=["firm", "number"], name="change_number_once_a_firm"),
            models.CheckConstraint(
                condition=Q(status__in=["draft", "withdrawn"])
                | Q(sent_at__isnull=False, paper__isnull=False),
                name="sent_change_has_paper",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.number} {self.title}"

    @property
    def is_draft(self) -> bool:
        """A draft may still be changed."""
        return self.status == ChangeStatus.DRAFT

    @property
    def began_early(self) -> bool:
        """Whether work began before the client approved."""
        if self.started_at is None:
            return False
        approved = self.status == ChangeStatus.APPROVED and self.decided_at is not None
        return not approved or self.started_at < self.decided_at  # type: ignore[operator]


class ChangeLink(ClientLink):
    """A client's private address of one change order."""

    change = models.ForeignKey(ChangeOrder, on_delete=models.PROTECT, related_name="links")

    def __str__(self) -> str:
        return f"link to {self.change}"


class Approval(Signed):
    """A change order that the client approved."""

    change = models.OneToOneField(ChangeOrder, on_delete=models.PROTECT, related_name="approval")

    def __str__(self) -> str:
        return f"{self.change} approved by {self.name}"
