"""Bills and what is paid on them. Rows are only ever added: a bill is put right by a credit note."""

from django.db import models
from django.db.models import Q

from labour.firm.models import FirmRow, User
from quoting.agree.models import ClientLink, Contract, ScheduleRow
from quoting.clients.models import Client
from quoting.documents.models import IssuedPaper


class InvoiceKind(models.TextChoices):
    """What an invoice bills."""

    DEPOSIT = "deposit", "Deposit"
    MILESTONE = "milestone", "Milestone"
    PROGRESS = "progress", "Progress"
    FINAL = "final", "Final"


class Invoice(FirmRow):
    """A bill as it was issued. amounts: `Amounts.to_json`; total = net + tax; retained: held back of it.

    due_now = total − retained. progress: {item key: percent complete} that it was made by.
    """

    contract = models.ForeignKey(Contract, on_delete=models.PROTECT, related_name="invoices")
    kind = models.CharField(max_length=12, choices=InvoiceKind)
    number = models.CharField(max_length=24)
    title = models.CharField(max_length=160)
    amounts = models.JSONField()
    net = models.DecimalField(max_digits=12, decimal_places=2)
    total = models.DecimalField(max_digits=12, decimal_places=2)
    retained = models.DecimalField(max_digits=12, decimal_places=2, default=0)
    progress = models.JSONField(default=dict)
    milestone = models.ForeignKey(
        ScheduleRow, on_delete=models.PROTECT, null=True, blank=True, related_name="invoices"
    )
    issued_at = models.DateTimeField()
    issued_on = models.DateField()
    due_on = models.DateField()
    issued_by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, related_name="+")
    paper = models.ForeignKey(IssuedPaper, on_delete=models.PROTECT, related_name="+")
    e_invoice = models.TextField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["firm", "number"], name="invoice_number_once_a_firm"),
            models.CheckConstraint(
                condition=Q(total__gt=0, retained__gte=0, retained__lte=models.F("total")),
                name="invoice_amounts_sane",
            ),
        ]
        indexes = [models.Index(fields=["firm", "-id"], name="invoice_firm_newest")]

    def __str__(self) -> str:
        return f"{self.number} {self.title}"


class CreditNote(FirmRow):
    """Takes back an invoice or part of it. amounts, total: positive. retained: what is no longer held."""

    invoice = models.ForeignKey(Invoice, on_delete=models.PROTECT, related_name="credits")
    number = models.CharField(max_length=24)
    reason = models.CharField(max_length=300)
    amounts = models.JSONField()
    net = models.DecimalField(max_digits=12, decimal_places=2)
    total = models.DecimalField(max_digits=12, decimal_places=2)
    retained = models.DecimalField(max_digits=12, decimal_places=2, default=0)
    issued_at = models.DateTimeField()
    issued_on = models.DateField()
    issued_by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, related_name="+")
    paper = models.ForeignKey(IssuedPaper, on_delete=models.PROTECT, related_name="+")
    e_invoice = models.TextField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["firm", "number"], name="credit_number_once_a_firm"),
            models.CheckConstraint(condition=Q(total__gt=0, retained__gte=0), name="credit_amounts_sane"),
        ]

    def __str__(self) -> str:
        return f"{self.number} for {self.invoice.number}"


class RetainageRelease(FirmRow):
    """What was held back of an invoice and is now due. notice: the paper that says so."""

    invoice = models.ForeignKey(Invoice, on_delete=models.PROTECT, related_name="releases")
    amount = models.DecimalField(max_digits=12, decimal_places=2)
    released_at = models.DateTimeField()
    released_on = models.DateField()
    released_by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, related_name="+")
    notice = models.ForeignKey(IssuedPaper, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = [models.CheckConstraint(condition=Q(amount__gt=0), name="release_positive")]

    def __str__(self) -> str:
        return f"{self.amount} of {self.invoice.number} released"


class Method(models.TextChoices):
    """How money came or went."""

    CASH = "cash", "Cash"
    CHEQUE = "cheque", "Cheque"
    TRANSFER = "transfer", "Bank transfer"
    CARD = "card", "Card"
    OTHER = "other", "Other"


class Payment(FirmRow):
    """Money from a client, or back to them when it is a refund (amount is negative then).

    What its shares leave is the client's credit. reference: cheque number or the like.
    """

    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="payments")
    number = models.CharField(max_length=24)
    amount = models.DecimalField(max_digits=12, decimal_places=2)
    method = models.CharField(max_length=10, choices=Method)
    received_on = models.DateField()
    reference = models.CharField(max_length=80, blank=True)
    note = models.CharField(max_length=300, blank=True)
    recorded_at = models.DateTimeField()
    recorded_by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, related_name="+")
    receipt = models.ForeignKey(IssuedPaper, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["firm", "number"], name="payment_number_once_a_firm"),
            models.CheckConstraint(condition=~Q(amount=0), name="payment_not_nothing"),
        ]

    def __str__(self) -> str:
        return f"{self.number} {self.amount}"

    @property
    def is_refund(self) -> bool:
        """Whether money went back to the client."""
        return self.amount < 0


class PaymentShare(models.Model):
    """What of the client's money counts towards an invoice. Negative when a credit note freed it again.

    payment: the one it came with; empty when it came out of the client's credit or went back to it.
    """

    invoice = models.ForeignKey(Invoice, on_delete=models.PROTECT, related_name="shares")
    payment = models.ForeignKey(
        Payment, on_delete=models.PROTECT, null=True, blank=True, related_name="shares"
    )
    amount = models.DecimalField(max_digits=12, decimal_places=2)
    at = models.DateTimeField()

    class Meta:
        constraints = [models.CheckConstraint(condition=~Q(amount=0), name="share_not_nothing")]

    def __str__(self) -> str:
        return f"{self.amount} on {self.invoice.number}"


class AccountLink(ClientLink):
    """A client's private address of one job's bills."""

    contract = models.ForeignKey(Contract, on_delete=models.PROTECT, related_name="account_links")

    def __str__(self) -> str:
        return f"link to the account of {self.contract.job}"
