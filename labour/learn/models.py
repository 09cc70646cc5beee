"""Rates that finished jobs propose; the owner takes or leaves each."""

from django.db import models

from labour.firm.models import FirmRow, User
from labour.ratebook.models import TaskRow
from labour.work.models import Job


class ProposalStatus(models.TextChoices):
    """What became of a proposal."""

    OPEN = "open", "To decide"
    TAKEN = "taken", "Taken"
    LEFT = "left", "Left"
    PASSED = "passed", "Overtaken by a newer one"


class RateProposal(FirmRow):
    """A new rate for a task, learned from the firm's jobs.

    rate_before … setup_after: units per labour-hour and labour-hours; low, high: rate that holds 8 in 10.
    figures: what `explain` says. words: the same in a sentence.
    """

    task = models.ForeignKey(TaskRow, on_delete=models.CASCADE, related_name="proposals")
    job = models.ForeignKey(Job, on_delete=models.SET_NULL, null=True, blank=True, related_name="proposals")
    made_at = models.DateTimeField()
    rate_before = models.DecimalField(max_digits=9, decimal_places=3)
    setup_before = models.DecimalField(max_digits=6, decimal_places=2)
    rate_after = models.DecimalField(max_digits=9, decimal_places=3)
    setup_after = models.DecimalField(max_digits=6, decimal_places=2)
    low = models.DecimalField(max_digits=9, decimal_places=3)
    high = models.DecimalField(max_digits=9, decimal_places=3)
    figures = models.JSONField(default=dict)
    words = models.CharField(max_length=500)
    status = models.CharField(max_length=8, choices=ProposalStatus, default=ProposalStatus.OPEN)
    decided_at = models.DateTimeField(null=True, blank=True)
    decided_by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, blank=True, related_name="+")

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["task"], condition=models.Q(status="open"), name="one_open_proposal_a_task"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.task}: {self.rate_before} to {self.rate_after} ({self.status})"
