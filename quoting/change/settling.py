"""Settling time and material with a ceiling: what it came to less is credited by a change order."""

from datetime import datetime
from decimal import Decimal

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm, User
from quoting.change.drafts import ChangeDraft
from quoting.change.models import ChangeOrder, ChangeStatus, Pricing, Reason
from quoting.change.queries import get_change
from quoting.change.services import raise_change_order
from quoting.documents.filters import money
from quoting.engine.billing.amounts import Amounts
from quoting.engine.pricing.money import read_money, split_by_shares


class CannotSettleChange(Refusal):
    """There is no difference to a ceiling that could be credited."""


def settle_ceiling(
    *, firm: Firm, change_id: int, actual: str, ticket: str, at: datetime, by: User | None
) -> ChangeOrder:
    """Draft the credit of an approved not-to-exceed change: ceiling − actual, both before tax.

    actual: money as people type it. The credit is split over the categories as the ceiling is, so that its
    taxes follow. Raise CannotSettleChange or BadMoney.
    """
    change = get_change(firm, change_id)
    amounts = Amounts.from_json(change.figures["firm_view"]["amounts"])
    came_to = read_money(actual, "actual")
    _refuse_unfit(change, amounts.net, came_to)
    currency, difference = firm.currency, amounts.net - came_to
    draft = ChangeDraft(
        title=f"{change.number} settled: time and material"[:120],
        reason=Reason.SETTLED,
        finding=(
            f"{change.title}: agreed up to {money(amounts.net, currency)} before tax, "
            f"came to {money(came_to, currency)}. The difference is credited."
        ),
        lines=_credit_lines(change.number, amounts, difference),
        days=0,
    )
    return raise_change_order(
        firm=firm, job_id=change.contract.job_id, draft=draft, ticket=ticket, at=at, by=by
    )


def _refuse_unfit(change: ChangeOrder, ceiling: Decimal, came_to: Decimal) -> None:
    if change.status != ChangeStatus.APPROVED or change.pricing != Pricing.NOT_TO_EXCEED:
        words = f"{change.number} is not an approved change order with a ceiling; there is nothing to settle."
        raise CannotSettleChange(Problem("status", words))
    if _settled(change):
        raise CannotSettleChange(Problem("status", f"{change.number} was settled already."))
    if not 0 <= came_to < ceiling:
        words = (
            f"Write what it came to before tax: 0 or more, and less than the ceiling of {ceiling:,}. "
            "At the ceiling or above it nothing is credited, and more is not owed."
        )
        raise CannotSettleChange(Problem("actual", words))


def _settled(change: ChangeOrder) -> bool:
    """Whether a standing change order settles it already."""
    rows = ChangeOrder.objects.of(change.firm).filter(contract=change.contract, reason=Reason.SETTLED)
    standing = rows.exclude(status__in=(ChangeStatus.DECLINED, ChangeStatus.WITHDRAWN))
    return bool(standing.filter(title__startswith=f"{change.number} settled").exists())


def _credit_lines(number: str, ceiling: Amounts, difference: Decimal) -> list[dict[str, str]]:
    """One stated line a category; none where the share comes to nothing."""
    shares = split_by_shares(difference, [max(net, Decimal(0)) for net in ceiling.nets.values()])
    return [
        {
            "kind": "plain",
            "description": f"{number}: {part.category} not needed",
            "category": part.category.value,
            "amount": str(-share),
        }
        for part, share in zip(ceiling.nets, shares, strict=True)
        if share
    ]
