"""Jobs as the crew sees them: where, when, and which tasks were planned. No prices."""

from decimal import Decimal

from django.db import models
from django.db.models import Q

from labour.firm.models import FirmRow, User, Worker


def _hours(**kwargs: object) -> "models.DecimalField[Decimal, Decimal]":
    return models.DecimalField(max_digits=10, decimal_places=2, **kwargs)  # type: ignore[arg-type]


class JobKind(models.TextChoices):
    """Where a job comes from."""

    AGREED = "agreed", "Agreed"
    PAST = "past", "Past job brought in"


class Job(FirmRow):
    """Work that was agreed. starts_on, finish_on: working dates as the firm means to keep them.

    stated_*: labour-hours of the whole job as they were predicted when it was last planned, before it was
    worked: the middle, and the ranges that hold 8 in 10 and 5 in 10; empty where nothing was predicted.
    stated_from: how many finished jobs the prediction knew.
    """

    kind = models.CharField(max_length=8, choices=JobKind, default=JobKind.AGREED)
    number = models.CharField(max_length=24)
    title = models.CharField(max_length=120)
    client_name = models.CharField(max_length=120)
    address = models.TextField("site address", max_length=400)
    created_at = models.DateTimeField()
    starts_on = models.DateField(null=True, blank=True)
    finish_on = models.DateField(null=True, blank=True)
    closed_at = models.DateTimeField(null=True, blank=True)
    stated_at = models.DateTimeField(null=True, blank=True)
    stated_from = models.PositiveIntegerField(default=0)
    stated_hours = _hours(null=True, blank=True)
    stated_low = _hours(null=True, blank=True)
    stated_high = _hours(null=True, blank=True)
    stated_low50 = _hours(null=True, blank=True)
    stated_high50 = _hours(null=True, blank=True)

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

    source: number of the quote or change order that brought it; "log" when it came up while working.
    conditions: names that hold in the room. cutting: factor on its time without set-up for more or less
    cutting than usual. rate, setup_hours: what it was priced by; empty when not kept.
    expected, low50, high50: predicted middle and the range that holds 5 in 10. done_quantity: measured when
    the job was closed; empty: as logged. is_withdrawn: taken out by a change order after hours were logged on
    it.
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
    cutting = models.DecimalField(max_digits=5, decimal_places=2, default=1)
    rate = models.DecimalField(max_digits=9, decimal_places=3, null=True, blank=True)
    setup_hours = models.DecimalField(max_digits=6, decimal_places=2, null=True, blank=True)
    expected = _hours(null=True, blank=True)
    low50 = _hours(null=True, blank=True)
    high50 = _hours(null=True, blank=True)
    done_quantity = models.DecimalField(max_digits=12, decimal_places=2, null=True, blank=True)
    is_withdrawn = models.BooleanField(default=False)

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(fields=["job", "position"], name="planned_task_position_once"),
            models.CheckConstraint(condition=Q(cutting__gt=0), name="planned_task_cutting_positive"),
        ]

    def __str__(self) -> str:
        return f"{self.room}: {self.name}"


class WorkEntry(FirmRow):
    """Labour-hours that a worker spent on a day, on one task or on several together.

    starts, ends: clock times, when they were written down. conditions: names of what was seen to slow the
    work. An entry of a past job may stand for more than one day. hour_cost: loaded cost of the worker's hour
    on the day it was logged. replaces: the entry that this one corrects. An entry that was corrected or
    struck stays, with struck_at.
    """

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="entries")
    worker = models.ForeignKey(Worker, on_delete=models.PROTECT, null=True, related_name="entries")
    on = models.DateField()
    starts = models.TimeField(null=True, blank=True)
    ends = models.TimeField(null=True, blank=True)
    hours = models.DecimalField(max_digits=5, decimal_places=2)
    note = models.CharField(max_length=500, blank=True)
    conditions = models.JSONField(default=list)
    hour_cost = models.DecimalField(max_digits=8, decimal_places=2, null=True)
    logged_at = models.DateTimeField()
    logged_by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, related_name="+")
    replaces = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="replaced_by"
    )
    struck_at = models.DateTimeField(null=True, blank=True)
    struck_by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    struck_why = models.CharField(max_length=200, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(hours__gt=0), name="entry_hours_positive"),
        ]
        indexes = [
            models.Index(fields=["firm", "worker", "on"], name="entry_of_worker_on"),
            models.Index(fields=["job", "on"], name="entry_of_job_on"),
        ]

    def __str__(self) -> str:
        return f"{self.on}: {self.hours} h"


class WorkEntryPart(models.Model):
    """A task that an entry was for. quantity: done that day, in the task's unit. percent: done so far."""

    entry = models.ForeignKey(WorkEntry, on_delete=models.CASCADE, related_name="parts")
    task = models.ForeignKey(PlannedTask, on_delete=models.PROTECT, related_name="parts")
    quantity = models.DecimalField(max_digits=12, decimal_places=2, null=True, blank=True)
    percent = models.DecimalField(max_digits=5, decimal_places=2, null=True, blank=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["entry", "task"], name="entry_task_once"),
            models.CheckConstraint(
                condition=(Q(quantity__isnull=True) | Q(quantity__gte=0))
                & (Q(percent__isnull=True) | Q(percent__gte=0, percent__lte=100)),
                name="entry_part_sane",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.task} of {self.entry}"
