"""Collects the models of the steps for Django; nobody else imports this."""

from labour.firm.models import ApiToken, AuditLine, DoneOnce, Firm, Membership, User, Worker
from labour.plan.models import TemplateLineRow, TemplateRow
from labour.ratebook.models import TaskRow
from labour.work.models import Job, PlannedTask

__all__ = [
    "ApiToken",
    "AuditLine",
    "DoneOnce",
    "Firm",
    "Job",
    "Membership",
    "PlannedTask",
    "TaskRow",
    "TemplateLineRow",
    "TemplateRow",
    "User",
    "Worker",
]
