"""The firm's rate book: what each task is, and how many units an hour gives."""

from decimal import Decimal

from django.db import models
from django.db.models import F, Q

from labour.engine.tasks import STARTING_GUESS, Task
from labour.engine.units import UNITS
from labour.engine.vocabulary import Phase
from labour.firm.models import FirmRow, User


class Licence(models.TextChoices):
    """Licensed trades."""

    NONE = "", "None"
    PLUMBING = "plumbing", "Licensed plumber"
    ELECTRICAL = "electrical", "Licensed electrician"


def _rate(**kwargs: object) -> "models.DecimalField[Decimal, Decimal]":
    return models.DecimalField(max_digits=9, decimal_places=3, **kwargs)  # type: ignore[arg-type]


class TaskRow(FirmRow):
    """A task with its production rate, in units per labour-hour.

    prior_rate, prior_setup_hours: what the book said before the firm took a learned rate, so that its jobs
    are not counted twice; empty while the rate was given and not learned.
    """

    code = models.SlugField(max_length=40)
    name = models.CharField(max_length=120)
    client_text = models.CharField(max_length=200)
    phase = models.CharField(max_length=16, choices=[(p.value, p.label) for p in Phase])
    unit = models.CharField(max_length=8, choices=[(u.code, u.label) for u in UNITS.values()])
    rate = _rate()
    rate_low = _rate()
    rate_high = _rate()
    setup_hours = models.DecimalField(max_digits=6, decimal_places=2, default=0)
    crew_min = models.PositiveSmallIntegerField(default=1)
    crew_max = models.PositiveSmallIntegerField(default=2)
    conditions = models.JSONField(default=dict, blank=True)
    cure_hours = models.DecimalField(max_digits=6, decimal_places=1, default=0)
    cautions = models.JSONField(default=list, blank=True)
    licence = models.CharField(max_length=12, choices=Licence, default=Licence.NONE, blank=True)
    source = models.CharField(max_length=240, default=STARTING_GUESS)
    prior_rate = _rate(null=True, blank=True)
    prior_setup_hours = models.DecimalField(max_digits=6, decimal_places=2, null=True, blank=True)
    is_active = models.BooleanField(default=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["firm", "code"], name="task_code_once_a_firm"),
            models.CheckConstraint(
                condition=Q(rate_low__gt=0, rate_low__lte=F("rate"), rate__lte=F("rate_high")),
                name="task_rate_inside_its_range",
            ),
            models.CheckConstraint(condition=Q(setup_hours__gte=0), name="task_setup_not_negative"),
            models.CheckConstraint(
                condition=Q(crew_min__gte=1, crew_min__lte=F("crew_max")), name="task_crew_in_order"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.code}: {self.name}"

    def to_engine(self) -> Task:
        """The same task as the engine's plain value."""
        return Task(
            code=self.code,
            name=self.name,
            client_text=self.client_text,
            phase=Phase(self.phase),
            unit_code=self.unit,
            rate=self.rate,
            rate_low=self.rate_low,
            rate_high=self.rate_high,
            setup_hours=self.setup_hours,
            crew_min=self.crew_min,
            crew_max=self.crew_max,
            conditions={name: Decimal(factor) for name, factor in self.conditions.items()},
            cure_hours=self.cure_hours,
            cautions=tuple(self.cautions),
            licence=self.licence,
            source=self.source,
        )


class RateOrigin(models.TextChoices):
    """How a rate came into the book."""

    START = "start", "Started with it"
    TYPED = "typed", "Typed"
    LEARNED = "learned", "Learned from your jobs"
    PUT_BACK = "put-back", "Put back"


class RateVersion(FirmRow):
    """A rate that a task has or had, from `at` on. evidence: what a learned rate was learned from."""

    task = models.ForeignKey(TaskRow, on_delete=models.CASCADE, related_name="versions")
    at = models.DateTimeField()
    by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, related_name="+")
    origin = models.CharField(max_length=10, choices=RateOrigin)
    rate = _rate()
    rate_low = _rate()
    rate_high = _rate()
    setup_hours = models.DecimalField(max_digits=6, decimal_places=2, default=0)
    source = models.CharField(max_length=240)
    evidence = models.JSONField(default=dict, blank=True)

    class Meta:
        indexes = [models.Index(fields=["task", "-id"], name="rate_version_newest")]

    def __str__(self) -> str:
        return f"{self.task}: {self.rate} ({self.origin})"


class LearnedRates(FirmRow):
    """What the firm's finished jobs taught, as hours are predicted from it; one row a firm.

    draws: bytes of `labour.engine.rates.draws.Draws`. jobs, logged: how many finished jobs and pieces of work
    stand behind it. rates: by task code, what `explain` says. unused: what was not learned from, and why.
    """

    fitted_at = models.DateTimeField()
    draws = models.BinaryField()
    jobs = models.PositiveIntegerField()
    logged = models.PositiveIntegerField()
    rates = models.JSONField(default=dict)
    unused = models.JSONField(default=list)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["firm"], name="learned_rates_once_a_firm")]

    def __str__(self) -> str:
        return f"rates learned from {self.jobs} jobs"
