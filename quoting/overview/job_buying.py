"""What a job buys and when: the accepted quote's purchases with their days. The crew sees no price."""

from typing import Any

from quoting.agree.models import Contract
from quoting.change.models import ChangeStatus
from quoting.change.queries import list_changes
from quoting.offer.buying import BY_DAY, grouped, purchases_of

_FOR_ALL = ("code", "name", "supplier", "needed_day", "needed_on", "rooms")
_HOW_MUCH = ("needed", "content_unit", "packs", "pack_name")


def job_buying(contract: Contract, *, sees_prices: bool, by: str = "") -> dict[str, Any]:
    """The page: purchases by supplier, or by day; what the list leaves out in `left_out`."""
    by_day = by == BY_DAY
    rows = job_purchases(contract, sees_prices=sees_prices)
    return {
        "job": contract.job,
        "by_day": by_day,
        "groups": grouped(rows, by_day=by_day),
        "shows_prices": sees_prices,
        "left_out": left_out(contract),
    }


def job_purchases(contract: Contract, *, sees_prices: bool) -> list[dict[str, Any]]:
    """The accepted quote's purchases by supplier, dated when the job's first day is set.

    Without prices each row is picked field by field, so that nothing new can slip through.
    """
    rows = purchases_of(contract.acceptance.quote, contract.job.starts_on)
    return rows if sees_prices else [{name: row[name] for name in (*_FOR_ALL, *_HOW_MUCH)} for row in rows]


def left_out(contract: Contract) -> list[str]:
    """Options taken and change orders approved: packs are not kept for them, so they are bought apart."""
    approved = [row for row in list_changes(contract) if row.status == ChangeStatus.APPROVED]
    return [*contract.acceptance.options, *(f"{row.number} {row.title}" for row in approved)]
