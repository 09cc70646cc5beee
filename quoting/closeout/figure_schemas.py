"""What the routes give of a job that is reckoned up."""

from ninja import Schema

from labour.firm.api_values import Amount, DecimalText


class CategoryCostOut(Schema):
    """Costs of one category. over = actual − estimated."""

    category: str
    label: str
    estimated: Amount
    actual: Amount
    over: Amount


class CloseoutJobOut(Schema):
    """The job. closed_on: empty while it is open."""

    number: str
    title: str
    client_name: str
    address: str
    agreed_on: str
    closed_on: str


class CloseoutContractOut(Schema):
    """contract_sum = quote_total + changes, with tax; net: before tax."""

    net: Amount
    quote_total: Amount
    changes: Amount
    contract_sum: Amount
    billed: Amount
    credited: Amount
    paid: Amount
    owed: Amount
    to_bill: Amount


class WhyTextsOut(Schema):
    """How a figure came about."""

    formula: str
    worked: str
    source: str


class ProfitOut(Schema):
    """profit = net − cost − overhead; margin: percent of net."""

    net: Amount
    cost: Amount
    overhead: Amount
    profit: Amount
    margin: DecimalText
    why: WhyTextsOut


class ProfitsOut(Schema):
    """Profit as estimated and as it became. contingency: set aside in the price, no cost.

    wanted_margin: percent.
    """

    estimated: ProfitOut
    actual: ProfitOut
    contingency: Amount
    wanted_margin: DecimalText


class HoursPartsOut(Schema):
    """Labour-hours over (+) or under (−) the estimate; they add up to the hours over."""

    quantity: DecimalText
    condition: DecimalText
    house: DecimalText
    efficiency: DecimalText


class CostPartsOut(Schema):
    """Money over (+) or under (−) the estimate; the parts add up to the cost over."""

    quantity: Amount
    efficiency: Amount
    wage: Amount


class CloseoutLabourOut(Schema):
    """All hours of the crew. house_factor: what all tasks had in common. uncosted_hours: of unknown cost."""

    estimated_hours: DecimalText
    actual_hours: DecimalText
    over_hours: DecimalText
    estimated_cost: Amount
    actual_cost: Amount
    over_cost: Amount
    hours: HoursPartsOut
    cost: CostPartsOut
    house_factor: DecimalText
    uncosted_hours: DecimalText


class StatedOut(Schema):
    """The range that was stated before the work, and the hours that it took."""

    low: DecimalText
    low50: DecimalText | None
    hours: DecimalText | None
    high50: DecimalText | None
    high: DecimalText
    actual: DecimalText
    is_inside: bool
    known_jobs: int


class CloseoutTaskOut(Schema):
    """A task. Quantities are empty for hours on no task. later: conditions seen that were not planned."""

    room: str
    code: str
    name: str
    phase: str
    unit: str
    planned_quantity: str
    done_quantity: str
    taken: str
    estimated_hours: DecimalText
    actual_hours: DecimalText
    over_hours: DecimalText
    hours: HoursPartsOut
    later: list[str]
    estimated_cost: Amount
    actual_cost: Amount
    over_cost: Amount
    cost: CostPartsOut


class BoughtInOut(Schema):
    """A task that a trade was bought for."""

    room: str
    name: str


class MostOverOut(Schema):
    """A task that cost more than estimated, in a sentence."""

    words: str
    over_cost: Amount


class CloseoutFindingOut(Schema):
    """What was behind a surface."""

    kind: str
    name: str
    was_found: bool
    cost: Amount | None


class CloseoutProposalOut(Schema):
    """A rate that closing the job proposed. before, after: units an hour."""

    task: str
    unit: str
    before: DecimalText
    after: DecimalText
    words: str


class CloseoutOut(Schema):
    """A job reckoned up. Frozen when the job is closed; of an open job, as it stands."""

    job: CloseoutJobOut
    contract: CloseoutContractOut
    profit: ProfitsOut
    categories: list[CategoryCostOut]
    labour: CloseoutLabourOut
    stated: StatedOut | None
    tasks: list[CloseoutTaskOut]
    bought_in: list[BoughtInOut]
    most_over: list[MostOverOut]
    findings: list[CloseoutFindingOut]
    proposals: list[CloseoutProposalOut]
