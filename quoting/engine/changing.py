"""The price of a change order.

Comes in: what was asked for, what the accepted quote settles, today's books. Goes out: lines with their price
and their why, and all of them together as `Amounts`; or a `Refusal`.

    work with an agreed unit price   quantity × that price, to the cent, once
    other work                       priced like a quote with today's books, packs bought once for the change
    stated price                     as it stands
    taken back                       the line's price in the quote, less its share of the discount
    allowance                        (what the choice costs − what the quote holds), priced like an allowance

What is added is taxed as today, what is taken off as the contract was. Each tax is rounded once.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from typing import assert_never

from labour.engine.refusal import Problem
from labour.engine.scope import RoomFigures, ScopeTemplate
from labour.engine.vocabulary import Phase
from labour.engine.why import Why
from quoting.engine.agreed import Agreed
from quoting.engine.billing.amounts import Amounts, Slice, TaxRate
from quoting.engine.change_lines import (
    AllowanceAsked,
    Asked,
    BadLines,
    CreditAsked,
    PlainAsked,
    TemplateAsked,
    WorkAsked,
)
from quoting.engine.change_work import Worked, work_out
from quoting.engine.estimate import Books, Planner
from quoting.engine.pricing.build_up import price_lines
from quoting.engine.pricing.money import LARGEST, ZERO, split_by_shares, to_cents
from quoting.engine.pricing.values import Category, Cost, CostLine, Method, PricedPart

TODAY = "today's rates"
STATED = "stated price"
ALLOWANCE_KEY = "allowance:"


@dataclass(frozen=True, slots=True)
class Terms:
    """What a change is priced by. gone: keys of lines, and "allowance:" with a name, that are settled."""

    agreed: Agreed
    books: Books
    rooms: Mapping[str, RoomFigures] = field(default_factory=dict)
    templates: Mapping[str, ScopeTemplate] = field(default_factory=dict)
    gone: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class ChangeLine:
    """One line. price: of a unit, None where only the amount is said. amount: before tax.

    basis: where the price comes from, in words. cost: to the firm, with overhead and contingency.
    worked: the work behind it, None for lines of money only.
    """

    description: str
    room: str
    quantity: Decimal
    unit: str
    price: Decimal | None
    amount: Decimal
    basis: str
    nets: Mapping[Slice, Decimal]
    cost: Decimal
    why: Why
    worked: Worked | None = None


@dataclass(frozen=True, slots=True)
class PricedChange:
    """All lines, and what they come to. hours: labour-hours of the work added."""

    lines: tuple[ChangeLine, ...]
    amounts: Amounts
    hours: Decimal
    cost: Decimal
    missing_prices: tuple[str, ...]
    cautions: frozenset[str]
    exclusions: tuple[str, ...]


def price_lines_of_change(asked: Sequence[Asked], terms: Terms, plan: Planner) -> PricedChange:
    """Price what was asked for, in its order. Raise a Refusal that names line and field."""
    _refuse_twice(asked, terms)
    works = work_out([line for line in asked if isinstance(line, WorkAsked | TemplateAsked)], terms, plan)
    lines = tuple(line for one in asked for line in _lines_of(one, terms, works.by_field))
    amounts = amounts_from(_sum(line.nets for line in lines))
    if abs(amounts.total) > LARGEST:
        words = f"The change comes to {amounts.total:,}. Look for a slip in a quantity, rate or price."
        raise BadLines(Problem("lines", words))
    return PricedChange(
        lines=lines,
        amounts=amounts,
        hours=sum((line.worked.hours.hours for line in lines if line.worked and line.worked.hours), ZERO),
        cost=sum((line.cost for line in lines), ZERO),
        missing_prices=tuple(sorted({name for line in lines for name in _missing(line)})),
        cautions=works.cautions,
        exclusions=works.exclusions,
    )


def amounts_from(nets: Mapping[Slice, Decimal]) -> Amounts:
    """Net by slice with the taxes on it: sum of the nets a tax lies on × rate ÷ 100, rounded once a tax."""
    bases: dict[TaxRate, Decimal] = {}
    for part, net in nets.items():
        for tax in part.taxes:
            bases[tax] = bases.get(tax, ZERO) + net
    taxes = {tax: to_cents(base * tax.rate / 100) for tax, base in bases.items()}
    return Amounts(
        {part: net for part, net in nets.items() if net},
        {tax: amount for tax, amount in taxes.items() if amount},
    )


def _lines_of(asked: Asked, terms: Terms, works: Mapping[str, Sequence[Worked]]) -> Iterable[ChangeLine]:
    match asked:
        case WorkAsked() | TemplateAsked():
            return [_work_line(asked, worked, terms) for worked in works[asked.field]]
        case PlainAsked():
            return [_plain_line(asked, terms)]
        case CreditAsked():
            return [_credit_line(asked, terms)]
        case AllowanceAsked():
            return [_allowance_line(asked, terms)]
        case _:
            assert_never(asked)


def _work_line(asked: WorkAsked | TemplateAsked, worked: Worked, terms: Terms) -> ChangeLine:
    """At the agreed unit price where the quote has one in this unit, else as priced today."""
    line, agreed = worked.line, terms.agreed.unit_prices.get(worked.line.code)
    today = ChangeLine(
        description=line.description,
        room=asked.room,
        quantity=line.quantity,
        unit=line.unit,
        price=None,
        amount=worked.priced.amount,
        basis=TODAY,
        nets=_sum({_today(part.category, terms): part.price} for part in worked.priced.parts),
        cost=to_cents(sum(map(_cost_of, worked.priced.parts), ZERO)),
        why=_why_of_parts(worked.priced.parts),
        worked=worked,
    )
    if agreed is None or agreed.unit != line.unit or line.task is None:
        return today
    amount = to_cents(line.quantity * agreed.price)
    nets = dict(zip(agreed.shares, split_by_shares(amount, list(agreed.shares.values())), strict=True))
    worked_text = f"{line.quantity} {line.unit} × {agreed.price:,} = {amount:,}"
    return replace(
        today,
        price=agreed.price,
        amount=amount,
        basis=f"agreed in {terms.agreed.number}",
        nets=_sum({_today(category, terms): net} for category, net in nets.items()),
        why=Why("quantity × agreed unit price", worked_text, f"agreed in {terms.agreed.number}"),
    )


def _plain_line(asked: PlainAsked, terms: Terms) -> ChangeLine:
    rule = terms.books.policy.rules.get(asked.category)
    if rule is None:
        words = f"There is no price rule for {asked.category} yet; see Prices."
        raise BadLines(Problem(f"{asked.field}.category", words))
    share = 100 - rule.percent if rule.method is Method.MARGIN else 10_000 / (100 + rule.percent)
    return ChangeLine(
        description=asked.description,
        room="",
        quantity=Decimal(1),
        unit="each",
        price=asked.amount,
        amount=asked.amount,
        basis=STATED,
        nets={_slice_for(asked.category, asked.amount, terms): asked.amount},
        cost=to_cents(asked.amount * share / 100),
        why=Why("as stated by the firm", f"{asked.amount:,}", f"stated, {asked.category}"),
    )


def _credit_line(asked: CreditAsked, terms: Terms) -> ChangeLine:
    line = terms.agreed.credits[asked.key]
    return ChangeLine(
        description=f"Taken out: {line.description}",
        room=line.room,
        quantity=line.quantity,
        unit=line.unit,
        price=None,
        amount=-line.amount,
        basis=f"price in {terms.agreed.number}",
        nets={part: -net for part, net in line.nets.items()},
        cost=-line.cost,
        why=line.why,
    )


def _allowance_line(asked: AllowanceAsked, terms: Terms) -> ChangeLine:
    included = terms.agreed.allowances[asked.description].included
    difference = asked.chosen - included
    why = Why("what the choice costs − what the quote holds", f"{asked.chosen} − {included} = {difference}")
    cost = CostLine(
        key=asked.field, room="", phase=Phase.FIXTURES, description=asked.description, quantity=Decimal(1),
        unit="each", costs=(Cost(Category.ALLOWANCE, difference, why),),
    )  # fmt: skip
    priced = price_lines([cost], terms.books.policy)[0]
    worked = f"{why.worked}; {priced.parts[0].why.worked}"
    return ChangeLine(
        description=f"Allowance settled: {asked.description}",
        room="",
        quantity=Decimal(1),
        unit="each",
        price=priced.amount,
        amount=priced.amount,
        basis=f"allowance of {terms.agreed.number}",
        nets={_slice_for(Category.ALLOWANCE, priced.amount, terms): priced.amount},
        cost=to_cents(_cost_of(priced.parts[0])),
        why=Why(f"({why.formula}), priced as an allowance", worked, priced.parts[0].why.source),
    )


def _slice_for(category: Category, amount: Decimal, terms: Terms) -> Slice:
    """What is added is taxed as today; what is taken off, as the contract was."""
    today = _today(category, terms)
    return terms.agreed.slices.get(category, today) if amount < 0 else today


def _today(category: Category, terms: Terms) -> Slice:
    taxes = terms.books.policy.taxes
    return Slice(category, tuple(TaxRate(tax.name, tax.rate) for tax in taxes if category in tax.categories))


def _refuse_twice(asked: Sequence[Asked], terms: Terms) -> None:
    """Nothing is taken back or settled that the contract does not have, or twice."""
    problems, gone = [], set(terms.gone)
    for line in asked:
        match line:
            case CreditAsked(field=name, key=key):
                where, known = f"{name}.key", key in terms.agreed.credits
            case AllowanceAsked(field=name, description=words):
                where, key = f"{name}.description", f"{ALLOWANCE_KEY}{words}"
                known = words in terms.agreed.allowances
                problems += _wrong_included(line, terms)
            case _:
                continue
        if not known:
            problems.append(Problem(where, f"{terms.agreed.number} holds nothing called “{key[:80]}”."))
        elif key in gone:
            problems.append(Problem(where, "This is taken back or settled already; nothing of it is left."))
        gone.add(key)
    if problems:
        raise BadLines(*problems)


def _wrong_included(line: AllowanceAsked, terms: Terms) -> list[Problem]:
    agreed = terms.agreed.allowances.get(line.description)
    if agreed is None or line.included in (None, agreed.included):
        return []
    words = f"{terms.agreed.number} includes {agreed.included:,} for this, not {line.included:,}."
    return [Problem(f"{line.field}.included", words)]


def _missing(line: ChangeLine) -> tuple[str, ...]:
    """Materials without a price; at an agreed price the client's price does not need them."""
    return line.worked.missing if line.worked is not None and line.basis == TODAY else ()


def _cost_of(part: PricedPart) -> Decimal:
    return part.direct + part.purchase_tax + part.overhead + part.contingency


def _why_of_parts(parts: Sequence[PricedPart]) -> Why:
    words = "; ".join(f"{part.category}: {part.why.worked}" for part in parts)
    formula = "sum of its categories, each direct cost priced by its rule"
    return Why(formula, words or "nothing to price", f"{TODAY}, price settings")


def _sum(many: Iterable[Mapping[Slice, Decimal]]) -> dict[Slice, Decimal]:
    sums: dict[Slice, Decimal] = {}
    for nets in many:
        for part, net in nets.items():
            sums[part] = sums.get(part, ZERO) + net
    return sums
