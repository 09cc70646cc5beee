"""The firm, the people who log in, and the people who work. Every row elsewhere belongs to a firm."""

from decimal import Decimal
from typing import Any, ClassVar, Self

from django.contrib.auth.models import AbstractUser, BaseUserManager
from django.db import models


class UserManager(BaseUserManager["User"]):
    """Makes users who log in by e-mail."""

    def create_user(self, email: str, password: str | None = None, **fields: Any) -> "User":
        """A user with this e-mail; without a password the account can only be opened by a reset link."""
        user = self.model(email=self.normalize_email(email).lower(), **fields)
        user.set_password(password)
        user.save(using=self._db)
        return user


class User(AbstractUser):
    """Someone who logs in, by e-mail."""

    username = None  # type: ignore[assignment]
    email = models.EmailField(unique=True)
    USERNAME_FIELD = "email"
    REQUIRED_FIELDS: ClassVar[list[str]] = []
    objects: ClassVar[UserManager] = UserManager()  # type: ignore[assignment]

    def __str__(self) -> str:
        return self.email


class Paper(models.TextChoices):
    """Paper sizes of documents."""

    LETTER = "letter", "Letter (8.5 × 11 in)"
    A4 = "a4", "A4"


class Units(models.TextChoices):
    """Units in which the firm reads and writes lengths."""

    US = "us", "Feet and inches"
    METRIC = "metric", "Millimetres and metres"


class Firm(models.Model):
    """A remodelling firm, with what its letterhead says."""

    name = models.CharField(max_length=120)
    address = models.TextField(max_length=400, blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField(blank=True)
    licence_text = models.CharField("licence line", max_length=160, blank=True)
    paper = models.CharField(max_length=8, choices=Paper, default=Paper.LETTER)
    units = models.CharField(max_length=8, choices=Units, default=Units.US)
    currency = models.CharField(max_length=3, default="USD")
    country = models.CharField("country, two letters", max_length=2, default="US")
    tax_number = models.CharField("sales tax or VAT registration number", max_length=40, blank=True)
    created_at = models.DateTimeField()
    set_up_at = models.DateTimeField(null=True, blank=True)

    def __str__(self) -> str:
        return self.name


class OfFirm[RowT: models.Model](models.QuerySet[RowT]):
    """Rows that belong to a firm. The one place where rows are scoped."""

    def of(self, firm: Firm) -> Self:
        """Only the rows of this firm."""
        return self.filter(firm=firm)


class FirmRow(models.Model):
    """Base of every row that belongs to a firm."""

    firm = models.ForeignKey(Firm, on_delete=models.PROTECT, related_name="+")
    objects: ClassVar[models.Manager[Any]] = OfFirm.as_manager()

    class Meta:
        abstract = True


class Role(models.TextChoices):
    """What a person may see and do."""

    OWNER = "owner", "Owner"
    OFFICE = "office", "Office"
    CREW = "crew", "Crew"


class Membership(FirmRow):
    """A log-in's place in its firm. One log-in serves one firm."""

    user = models.OneToOneField(User, on_delete=models.CASCADE, related_name="membership")
    role = models.CharField(max_length=8, choices=Role)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=models.Q(role__in=Role.values), name="membership_role_known"),
        ]

    def __str__(self) -> str:
        return f"{self.user} ({self.role})"

    @property
    def sees_prices(self) -> bool:
        """Crew never sees prices, costs or margins."""
        return self.role != Role.CREW


class Worker(FirmRow):
    """Someone whose hours are priced. wage: per hour. burden_percent: taxes and insurance on the wage.

    member: the log-in with which they write down their own hours, if they have one.
    """

    member = models.OneToOneField(
        Membership, on_delete=models.SET_NULL, null=True, blank=True, related_name="worker"
    )
    name = models.CharField(max_length=80)
    trade = models.CharField(max_length=60, blank=True)
    wage = models.DecimalField(max_digits=8, decimal_places=2)
    burden_percent = models.DecimalField(max_digits=6, decimal_places=2)
    is_active = models.BooleanField(default=True)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=models.Q(wage__gt=0), name="worker_wage_positive"),
            models.CheckConstraint(
                condition=models.Q(burden_percent__gte=0), name="worker_burden_not_negative"
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def loaded_cost(self) -> Decimal:
        """Wage with burden, per hour, not rounded."""
        return self.wage * (1 + self.burden_percent / 100)


class AuditLine(FirmRow):
    """Who did what, and when. Written by services in the same transaction as the change."""

    at = models.DateTimeField()
    by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, related_name="+")
    action = models.CharField(max_length=60)
    subject = models.CharField(max_length=160)
    detail = models.JSONField(default=dict)

    class Meta:
        indexes = [models.Index(fields=["firm", "-at"], name="audit_firm_at")]

    def __str__(self) -> str:
        return f"{self.action}: {self.subject}"


class ApiToken(FirmRow):
    """A key for programs; only its digest is kept. It may do what its membership may."""

    membership = models.ForeignKey(Membership, on_delete=models.CASCADE, related_name="tokens")
    name = models.CharField(max_length=60)
    digest = models.CharField(max_length=64, unique=True)
    created_at = models.DateTimeField()

    def __str__(self) -> str:
        return self.name


class DoneOnce(FirmRow):
    """A change that was asked for with a ticket: asked again with the same ticket it is not done twice."""

    ticket = models.CharField(max_length=64)
    action = models.CharField(max_length=40)
    row_id = models.BigIntegerField()
    at = models.DateTimeField()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["firm", "ticket"], name="ticket_once_a_firm")]

    def __str__(self) -> str:
        return f"{self.action} {self.row_id}"
