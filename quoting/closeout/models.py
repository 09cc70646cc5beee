"""What a job really cost beside its hours, and how it stood when it was closed."""

from django.db import models
from django.db.models import Q

from labour.firm.models import FirmRow, User
from labour.work.models import Job
from quoting.engine.pricing.values import Category

_BOUGHT = [(c.value, c.value.capitalize()) for c in Category if c is not Category.LABOUR]


class JobCost(FirmRow):
    """Something bought for a job, as the receipt says it, with the tax that the firm paid.

    A cost that was entered wrongly stays, with struck_at.
    """

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="costs")
    category = models.CharField(max_length=12, choices=_BOUGHT)
    on = models.DateField()
    supplier = models.CharField(max_length=120, blank=True)
    note = models.CharField(max_length=200, blank=True)
    amount = models.DecimalField(max_digits=12, decimal_places=2)
    entered_at = models.DateTimeField()
    entered_by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, related_name="+")
    struck_at = models.DateTimeField(null=True, blank=True)
    struck_by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, blank=True, related_name="+")

    class Meta:
        constraints = [
            models.CheckConstraint(condition=~Q(amount=0), name="job_cost_not_zero"),
        ]
        indexes = [models.Index(fields=["job", "on"], name="job_cost_of_job_on")]

    def __str__(self) -> str:
        return f"{self.category} {self.amount}"


class Closeout(FirmRow):
    """A closed job: the figures as they stood then, which later changes of rates or wages do not move."""

    job = models.OneToOneField(Job, on_delete=models.PROTECT, related_name="closeout")
    closed_at = models.DateTimeField()
    closed_by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, related_name="+")
    figures = models.JSONField()

    def __str__(self) -> str:
        return f"closeout of {self.job}"
