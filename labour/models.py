"""Collects the models of the steps for Django; nobody else imports this."""

from labour.firm.models import ApiToken, AuditLine, DoneOnce, Firm, Membership, User, Worker
from labour.learn.models import RateProposal
from labour.plan.models import TemplateLineRow, TemplateRow
from labour.ratebook.models import LearnedRates, RateVersion, TaskRow
from labour.work.models import Job, PlannedTask, WorkEntry, WorkEntryPart

__all__ = [
    "ApiToken",
    "AuditLine",
    "DoneOnce",
    "Firm",
    "Job",
    "LearnedRates",
    "Membership",
    "PlannedTask",
    "RateProposal",
    "RateVersion",
    "TaskRow",
    "TemplateLineRow",
    "TemplateRow",
    "User",
    "WorkEntry",
    "WorkEntryPart",
    "Worker",
]
