"""Progress billing and retainage as specifications ask for them.

Source of C46–C48: a public college project manual, section 01152 (payment applications). C49: a public
question and answer page, of which 12,000 / 11,400 / 3,000 were seen and the rest is derived.
"""

from decimal import Decimal

from quoting.engine.billing.ledger import Ledger, bill, release
from quoting.engine.billing.progress import Item, earned, progress_bill, retainage_on
from quoting.engine.pricing.values import Category
from tests.quoting.billing_makers import make_amounts

TILE = Item("tile", "Tile", Decimal("15000.00"))
PAINT = Item("paint", "Paint", Decimal("4000.00"))


def test_c46_retainage_is_taken_on_all_that_is_complete_to_date() -> None:
    # 10% of what is complete to date, whatever the steps in which it was billed: 40%, 75%, 100% of 15,000.
    ledger, before, billed = Ledger(make_amounts({Category.LABOUR: "15000.00"})), {}, Decimal("0.00")

    for place, percent in enumerate(("40", "75", "100")):
        now = {"tile": Decimal(percent)}
        total = progress_bill([TILE], before, now, billed)
        ledger, _ = bill(ledger, f"I-{place}", total, retainage_on(total, Decimal(10)))
        before, billed = now, billed + total

        assert ledger.account.retained == earned([TILE], now) / 10


def test_c47_amounts_are_kept_to_the_cent_where_the_manual_rounds_to_the_dollar() -> None:
    # The manual rounds the continuation sheet to the nearest 1 USD; a bill here keeps the cent, so it is
    # never further off than that rounding: 4,000.00 × 33.33% = 1,333.20, on the sheet 1,333.
    exact = earned([PAINT], {"paint": Decimal("33.33")})

    assert exact == Decimal("1333.20")
    assert abs(exact - Decimal(1333)) <= Decimal("0.50")


def test_c48_a_change_order_is_an_item_of_its_own_after_the_original_ones() -> None:
    # A change that is not begun leaves what the original items have earned as it was.
    change = Item("C1", "Change order 1", Decimal("500.00"))
    done = {"tile": Decimal(80), "paint": Decimal(0)}

    before, after = earned([TILE, PAINT], done), earned([TILE, PAINT, change], done)

    assert before == after == Decimal("12000.00")
    assert earned([TILE, PAINT, change], done | {"C1": Decimal(100)}) == Decimal("12500.00")


def test_c49_an_item_of_15000_at_80_percent_with_5_percent_retainage() -> None:
    ledger = Ledger(make_amounts({Category.LABOUR: "15000.00"}))

    total = progress_bill([TILE], {}, {"tile": Decimal(80)}, Decimal("0.00"))
    ledger, _ = bill(ledger, "I-0001", total, retainage_on(total, Decimal(5)))

    account = ledger.account
    assert (total, account.retained, account.owed) == (Decimal(12000), Decimal(600), Decimal(11400))
    # Balance 3,000 to bill, plus 600 held.
    assert account.to_bill == Decimal(3000)
    assert release(ledger)[0].account.owed == Decimal(12000)
