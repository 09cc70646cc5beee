"""A hall bath that was worked, bought for and can be closed, with hours and costs in round numbers."""

from datetime import timedelta
from decimal import Decimal
from typing import Any

from labour.firm.models import Firm, User, Worker
from labour.work.models import Job
from quoting.agree.models import Contract
from quoting.closeout.models import Closeout
from quoting.closeout.services import CostWords, add_cost, close_out
from quoting.price.findings import FindingWords
from tests.log_makers import make_entry
from tests.makers import AT
from tests.quoting.change_job import make_job

END = AT + timedelta(days=60)
FOUND = FindingWords("subfloor-rot", was_found=True, cost=Decimal("410.00"))
SOUND = FindingWords("weak-joists", was_found=False)
# The estimated hours of the own crew's other tasks, worked as estimated.
AS_ESTIMATED = {
    "take-out-tub": "2.50", "hang-backer": "3.13", "run-base": "0.75", "paint-walls": "1.71", "clean": "2.50"
}  # fmt: skip


def make_worked_job() -> tuple[Contract, User]:
    """Every task of the crew worked: 40.00 an hour Sam, 60.00 an hour Kim.

    Tile the walls: 13 h of Sam (estimated 9.91). Tile the floor: 5 h of Kim (3.25). The others as estimated,
    of Sam. The plumber's task has no hours.
    """
    contract, owner = make_job()
    job, sam, kim = contract.job, worker(contract.firm, "Sam"), worker(contract.firm, "Kim")
    for code, hours in AS_ESTIMATED.items():
        make_entry(job, sam, hours, [job.tasks.get(code=code)])
    make_entry(job, sam, "13", {job.tasks.get(code="tile-wall"): "54"})
    make_entry(job, kim, "5", {job.tasks.get(code="tile-floor"): "33"})
    return contract, owner


def worker(firm: Firm, name: str) -> Worker:
    """The firm's worker of this name."""
    found: Worker = Worker.objects.of(firm).get(name=name)
    return found


def buy(contract: Contract, amount: str = "400.00", category: str = "material", **more: Any) -> Any:
    """A receipt of the day before the end."""
    words = {"on": (END - timedelta(days=1)).date(), "note": "Mortar"} | more
    cost = CostWords(category=category, amount=Decimal(amount), **words)
    return add_cost(firm=contract.firm, job_id=contract.job_id, cost=cost, at=END, by=None)


def close(contract: Contract, quantities: dict[int, Decimal] | None = None, **more: Any) -> Closeout:
    """Close the job; rot was found, the joists were sound."""
    asked = {"findings": [FOUND, SOUND], "at": END, "by": None} | more
    return close_out(firm=contract.firm, job_id=contract.job_id, quantities=quantities or {}, **asked)


def reread(contract: Contract) -> Job:
    """The job as it is kept."""
    found: Job = Job.objects.of(contract.firm).get(pk=contract.job_id)
    return found
