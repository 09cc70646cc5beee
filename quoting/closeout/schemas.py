"""What the routes of a job's costs and of its end take and give."""

from datetime import date, datetime

from ninja import Schema

from labour.firm.api_values import Amount, Body, Day, DecimalText
from quoting.closeout.figure_schemas import CategoryCostOut


class JobCostIn(Body):
    """Something bought. category: any but labour. amount: with tax; below zero for what was given back.

    ticket: any text of your own; sent again with the same one, nothing is written twice.
    """

    category: str
    on: Day
    amount: Amount
    supplier: str = ""
    note: str = ""
    ticket: str = ""


class JobCostOut(Schema):
    """A receipt. struck_at: when it was taken out of the figures."""

    id: int
    category: str
    on: date
    supplier: str
    note: str
    amount: Amount
    entered_at: datetime
    entered_by: str
    struck_at: datetime | None
    struck_by: str


class CostSumOut(Schema):
    """All that was bought, beside its estimate."""

    estimated: Amount
    actual: Amount
    over: Amount


class JobCostsOut(Schema):
    """The receipts of a job, the struck ones too, and their sums. Labour comes from the log."""

    costs: list[JobCostOut]
    categories: list[CategoryCostOut]
    total: CostSumOut


class ClosingFindingIn(Body):
    """What was behind a surface that the job opened. kind: its code. cost: of mending, to the firm."""

    kind: str
    was_found: bool
    cost: Amount | None = None


class FinalQuantityIn(Body):
    """What was done of a planned task, in its unit."""

    task: int
    quantity: DecimalText


class CloseOutIn(Body):
    """quantities: measured at the end; what is left out stays as logged. findings: null takes what the plan
    and the change orders suggest."""

    quantities: list[FinalQuantityIn] = []
    findings: list[ClosingFindingIn] | None = None


class ReopenIn(Body):
    """Why a closed job is opened again."""

    why: str


class OpenMatterOut(Schema):
    """Something not settled. blocks: keeps the job from being closed."""

    what: str
    words: str
    blocks: bool
    amount: Amount | None


class ClosingTaskOut(Schema):
    """A task as it would be closed. taken: where the quantity comes from."""

    task: int
    room: str
    name: str
    unit: str
    planned: DecimalText
    quantity: DecimalText
    taken: str


class ClosingFindingOut(Schema):
    """A kind of concealed condition, as plan and change orders suggest it."""

    kind: str
    name: str
    is_opened: bool
    was_found: bool
    cost: Amount | None


class ClosingOut(Schema):
    """What is to be known and checked before a job is closed."""

    open_matters: list[OpenMatterOut]
    tasks: list[ClosingTaskOut]
    findings: list[ClosingFindingOut]
