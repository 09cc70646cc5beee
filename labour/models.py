"""Collects the models of the steps for Django; nobody else imports this."""

from labour.firm.models import ApiToken, AuditLine, Firm, Membership, User, Worker
from labour.plan.models import TemplateLineRow, TemplateRow
from labour.ratebook.models import TaskRow

__all__ = [
    "ApiToken",
    "AuditLine",
    "Firm",
    "Membership",
    "TaskRow",
    "TemplateLineRow",
    "TemplateRow",
    "User",
    "Worker",
]
