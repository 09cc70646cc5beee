"""New prices before they are taken, and revisions side by side: what changed, in words and money."""

from decimal import Decimal
from typing import Any

import pytest

from labour.firm.models import Firm, User
from quoting.catalogue.services import change_price
from quoting.offer import life, lines, services
from quoting.offer.comparing import CannotCompare, compare_revisions, reprice_difference
from quoting.offer.models import Quote
from quoting.offer.services import CannotChangeQuote
from tests.hall_bath import OPTION, ROOM
from tests.hall_firm import LATER, make_hall_firm, make_hall_quote
from tests.makers import AT
from tests.rules.house import all_rows

TOTAL = Decimal("4397.84")
BASE, CLEAN = f"{ROOM}/run-base", f"{ROOM}/clean"

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def hall() -> tuple[Firm, User]:
    """The firm with the hall bath's books, and its owner."""
    return make_hall_firm()


@pytest.fixture
def draft(hall: tuple[Firm, User]) -> Quote:
    """The hall bath's quote, a draft."""
    return make_hall_quote(*hall)


@pytest.fixture
def offer(draft: Quote) -> Quote:
    """The hall bath's quote, sent."""
    return services.send_quote(**asked(draft))


def asked(quote: Quote, **more: Any) -> dict[str, Any]:
    """What every change is told."""
    return {"firm": quote.firm, "quote_id": quote.pk, "at": LATER, "by": quote.created_by} | more


def set_price(quote: Quote, code: str, price: str) -> None:
    """Another price of a material."""
    change_price(
        firm=quote.firm, code=code, price=Decimal(price), priced_on=AT.date(), by=quote.created_by, at=LATER
    )


def test_new_prices_are_shown_line_by_line_before_they_are_taken(draft):
    set_price(draft, "dumpster", "400")
    before = all_rows()

    found = reprice_difference(draft.firm, draft.pk)

    (line,) = found.lines
    assert (line.change, line.name, line.said) == ("changed", f"{ROOM}: Debris container", "another price")
    assert (line.before, line.after, line.more) == (Decimal("378.00"), Decimal("504.00"), Decimal("126.00"))
    assert (found.before, found.after, found.more) == (TOTAL, TOTAL + Decimal("129.15"), Decimal("129.15"))
    assert all_rows() == before


def test_the_prices_that_were_shown_are_the_ones_taken(draft):
    set_price(draft, "dumpster", "400")
    shown = reprice_difference(draft.firm, draft.pk).after
    set_price(draft, "dumpster", "500")

    with pytest.raises(CannotChangeQuote, match="Prices changed meanwhile"):
        services.reprice_quote(**asked(draft, shown=shown))
    assert Quote.objects.get(pk=draft.pk).total == TOTAL
    services.reprice_quote(**asked(draft, shown=reprice_difference(draft.firm, draft.pk).after))


def test_unchanged_prices_show_no_difference(draft):
    assert reprice_difference(draft.firm, draft.pk).is_same


def test_two_revisions_are_laid_side_by_side_in_words_and_money(offer):
    revised = life.revise_quote(**asked(offer))
    lines.set_quantity(**asked(revised, key=BASE, quantity="33"))
    lines.leave_out(**asked(revised, key=CLEAN))
    lines.add_work(**asked(revised, room=ROOM, task="set-valve", quantity="1"))
    lines.choose_options(**asked(revised, options=frozenset({OPTION})))

    earlier, later, found = compare_revisions(offer.firm, revised.pk, offer.pk)

    by_name = {(row.change, row.name): row for row in found.lines}
    base = by_name["changed", f"{ROOM}: Run new base"]
    assert base.said == "11.00 lin ft before, 33.00 lin ft now"
    assert (base.before, base.after) == (Decimal("107.40"), Decimal("256.00"))
    assert by_name["removed", f"{ROOM}: Clean up"].more == Decimal("-250.00")
    assert by_name["added", f"{ROOM}: Set the shower valve"].before is None
    assert [(row.change, row.name) for row in found.options] == [("removed", OPTION)]
    assert (earlier.number, later.number) == ("Q-0001", "Q-0001-R2")
    assert sum(row.more for row in found.lines) == found.steps[0].more


def test_steps_add_up_to_the_total_on_both_sides(offer):
    revised = life.revise_quote(**asked(offer))
    lines.set_discount(**asked(revised, percent=Decimal(3), amount=Decimal(0)))

    steps = {step.name: step for step in compare_revisions(offer.firm, offer.pk, revised.pk)[2].steps}

    assert list(steps) == ["Lines", "Discount", "Subtotal", "Sales tax", "Disposal levy", "Total"]
    for side in ("before", "after"):
        of = {name: getattr(step, side) for name, step in steps.items()}
        assert of["Lines"] + of["Discount"] == of["Subtotal"]
        assert of["Subtotal"] + of["Sales tax"] + of["Disposal levy"] == of["Total"]
    assert steps["Discount"].more == Decimal("-129.86")


def test_quotes_that_are_no_revisions_of_one_another_are_not_compared(hall, offer):
    other = make_hall_quote(*hall)

    with pytest.raises(CannotCompare, match=r"other: Q-000. is no other revision"):
        compare_revisions(hall[0], offer.pk, other.pk)
    with pytest.raises(CannotCompare):
        compare_revisions(hall[0], offer.pk, offer.pk)
