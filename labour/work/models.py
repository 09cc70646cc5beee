"""Jobs as the crew sees them: where, when, and which tasks were planned. No prices."""

from django.db import models
from django.db.models import Q

from labour.firm.models import FirmRow


class Job(FirmRow):
    """Work that was agreed. starts_on, finish_on: working dates as the firm means to keep them."""

    number = models.CharField(max_length=24)
    title = models.CharField(max_length=120)
    client_name = models.CharField(max_length=120)
    address = models.TextField("site address", max_length=400)
    created_at = models.DateTimeField()
    starts_on = models.DateField(null=True, blank=True)
    finish_on = models.DateField(null=True, blank=True)
    closed_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["firm", "number"], name="job_number_once_a_firm"),
            models.CheckConstraint(
                condition=Q(starts_on__isnull=True)
                | Q(finish_on__isnull=True)
                | Q(finish_on__gte=models.F("starts_on")),
                name="job_ends_after_it_starts",
            ),
        ]
        indexes = [models.Index(fields=["firm", "-id"], name="job_firm_newest")]

    def __str__(self) -> str:
        return f"{self.number} {self.title}"


class PlannedTask(models.Model):
    """A task of the job with its planned labour-hours; low–high holds 8 in 10.

    source: number of the quote or change order that brought it. conditions: names that hold in the room.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="tasks")
    position = models.PositiveSmallIntegerField()
    source = models.CharField(max_length=40)
    room = models.CharField(max_length=80)
    code = models.SlugField(max_length=40)
    name = models.CharField(max_length=120)
    phase = models.CharField(max_length=16)
    quantity = models.DecimalField(max_digits=12, decimal_places=2)
    unit = models.CharField(max_length=16)
    hours = models.DecimalField(max_digits=10, decimal_places=2)
    low = models.DecimalField(max_digits=10, decimal_places=2)
    high = models.DecimalField(max_digits=10, decimal_places=2)
    licence = models.CharField(max_length=20, blank=True)
    cure_hours = models.DecimalField(max_digits=6, decimal_places=1, default=0)
    conditions = models.JSONField(default=list)

    class Meta:
        ordering = ["position"]
        constraints = [models.UniqueConstraint(fields=["job", "position"], name="planned_task_position_once")]

    def __str__(self) -> str:
        return f"{self.room}: {self.name}"
