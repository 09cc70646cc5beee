"""What the letters about an approved change order say, and to whom they go."""

from datetime import datetime

from django.utils import timezone

from labour.firm.models import User
from quoting.agree.models import Contract
from quoting.change.models import Approval
from quoting.change.pricing import standing_of
from quoting.documents.filters import money
from quoting.documents.letters import write_letter

_FOR_CLIENT = """Hello {client},

thank you. You approved change order {number}, {title}, at {total} with tax on {day}. The signed copy is \
attached; please keep it. The contract sum is now {sum}.

{firm}
"""
_FOR_FIRM = """{name} approved change order {number}, {title}, of job {job} at {total} with tax on {day}.
The contract sum is now {sum}. The signed copy is attached.
"""


def write_approved_letters(approval: Approval, contract: Contract, at: datetime, by: User | None) -> None:
    """The executed copy to both sides, as far as their addresses are known."""
    change, firm = approval.change, contract.firm
    signed = timezone.localtime(approval.signed_at)
    words = {
        "client": contract.client.name,
        "number": change.number,
        "title": change.title,
        "name": approval.name,
        "job": contract.job.number,
        "total": money(change.total, firm.currency),
        "sum": money(standing_of(contract).contract_sum, firm.currency),
        "day": f"{signed:%B} {signed.day}, {signed.year}",
        "firm": "\n".join(line for line in (firm.name, firm.phone, firm.email) if line),
    }
    for to, body in ((contract.client.email, _FOR_CLIENT), (firm.email, _FOR_FIRM)):
        if to:
            write_letter(
                firm=firm,
                about=f"change order {change.number}",
                to=[to],
                subject=f"Change order {change.number} approved: {change.title}"[:160],
                body=body.format(**words),
                papers=[approval.executed],
                at=at,
                by=by,
            )
