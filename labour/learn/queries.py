"""Readings of what was learned: the rates, what stands behind them, and what waits for a decision."""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal

from labour.engine.learned import FirmFactors, firm_factors
from labour.engine.tasks import Task
from labour.firm.models import Firm
from labour.learn.models import ProposalStatus, RateProposal
from labour.plan.forecast import know
from labour.ratebook.models import LearnedRates, TaskRow
from labour.ratebook.versions import given_rates
from labour.work.models import Job


def find_learned(firm: Firm) -> LearnedRates | None:
    """What the firm's finished jobs taught; None while nothing was learned yet."""
    row: LearnedRates | None = LearnedRates.objects.of(firm).defer("draws").first()
    return row


def find_factors(firm: Firm) -> FirmFactors | None:
    """What holds for the firm on the whole; None while it has no finished job."""
    known = know(firm)
    return firm_factors(known.draws) if known.jobs else None


def list_open_proposals(firm: Firm) -> list[RateProposal]:
    """What the owner may decide, in the order of the rate book."""
    rows = RateProposal.objects.of(firm).filter(status=ProposalStatus.OPEN, task__is_active=True)
    return list(rows.select_related("task", "job").order_by("task_id"))


def list_decided_proposals(firm: Firm, most: int = 20) -> list[RateProposal]:
    """What was taken or left, the newest first."""
    rows = RateProposal.objects.of(firm).filter(status__in=(ProposalStatus.TAKEN, ProposalStatus.LEFT))
    return list(rows.select_related("task", "decided_by").order_by("-decided_at", "-pk")[:most])


def list_proposals_of(job: Job) -> list[RateProposal]:
    """What closing the job proposed, in the order it was made."""
    rows = RateProposal.objects.of(job.firm).filter(job=job)
    return list(rows.select_related("task").order_by("pk"))


def get_given_book(firm: Firm) -> dict[str, Task]:
    """The rate book with the rates that it had before anything was learned, by code."""
    return {
        row.code: given_task(row) for row in TaskRow.objects.of(firm).filter(is_active=True).order_by("pk")
    }


def given_task(row: TaskRow) -> Task:
    """The task with the rates it had before anything was learned."""
    given = given_rates(row)
    return replace(
        row.to_engine(),
        rate=given["rate"],
        rate_low=given["rate_low"],
        rate_high=given["rate_high"],
        setup_hours=given["setup_hours"],
    )


def list_typed_since(firm: Firm, learned: LearnedRates) -> list[TaskRow]:
    """Tasks whose given rate is another than the one that was learned from."""
    given: Mapping[str, Mapping[str, str]] = {code: rate["given"] for code, rate in learned.rates.items()}
    rows = TaskRow.objects.of(firm).filter(is_active=True, code__in=given).order_by("pk")
    return [row for row in rows if _is_other(row, given[row.code])]


def _is_other(row: TaskRow, given: Mapping[str, str]) -> bool:
    rate = row.rate if row.prior_rate is None else row.prior_rate
    return rate != Decimal(given["rate"])
