"""Every rate has its history, and can be put back."""

from decimal import Decimal

import pytest

from labour.firm.models import AuditLine
from labour.ratebook.models import RateVersion
from labour.ratebook.queries import list_versions
from labour.ratebook.services import change_task
from labour.ratebook.versions import (
    CannotPutBackRate,
    CannotTakeRate,
    NewRate,
    given_rates,
    put_back_rate,
    take_learned_rate,
)
from tests.labour.learn_cast import make_learning_firm, row_of
from tests.makers import AT, make_firm, make_member

pytestmark = pytest.mark.django_db
LEARNED = NewRate(
    rate=Decimal("7.7"),
    low=Decimal(6),
    high=Decimal(10),
    setup_hours=Decimal("1.30"),
    jobs=5,
    evidence={"words": "So."},
)


def change(firm, **changes):
    return change_task(firm=firm, code="tile-floor", changes=changes, by=None, at=AT)


def take(firm, learned=LEARNED):
    return take_learned_rate(firm=firm, code="tile-floor", learned=learned, at=AT, by=None)


def put_back(firm, version, by=None):
    return put_back_rate(firm=firm, code="tile-floor", version_id=version.pk, at=AT, by=by)


def told(firm):
    return [(version.origin, str(version.rate)) for version in list_versions(row_of(firm))]


def test_the_first_change_also_keeps_the_rate_it_started_with():
    firm = make_learning_firm()

    change(firm, rate="12")

    assert told(firm) == [("typed", "12.000"), ("start", "10.000")]


def test_a_change_of_words_makes_no_version():
    firm = make_learning_firm()

    change(firm, name="Set floor tile")

    assert told(firm) == []


def test_a_learned_rate_keeps_what_was_given_and_its_evidence():
    firm = make_learning_firm()

    row = take(firm)

    assert (row.rate, row.prior_rate, row.prior_setup_hours) == (Decimal("7.7"), 10, 1)
    assert row.source == "learned from your 5 jobs"
    assert list_versions(row)[0].evidence == {
        "words": "So.",
        "given": {"rate": "10", "rate_low": "7", "rate_high": "14", "setup_hours": "1"},
    }


def test_learning_on_top_of_a_learned_rate_keeps_the_first_given_one():
    firm = make_learning_firm()
    take(firm)

    row = take(firm, NewRate(Decimal(7), Decimal(6), Decimal(9), Decimal("1.40"), 8))

    assert (row.prior_rate, row.prior_setup_hours) == (10, 1)
    assert given_rates(row) == {"rate": 10, "rate_low": 7, "rate_high": 14, "setup_hours": 1}


def test_a_typed_rate_is_given_and_no_longer_learned():
    firm = make_learning_firm()
    take(firm)

    change(firm, rate="9", source="Our own guess")

    row = row_of(firm)
    assert (row.prior_rate, row.prior_setup_hours) == (None, None)
    assert given_rates(row)["rate"] == 9


def test_a_typed_range_leaves_a_learned_rate_learned():
    firm = make_learning_firm()
    take(firm)

    change(firm, rate_high="11")

    row = row_of(firm)
    assert (row.rate_high, row.prior_rate) == (11, 10)
    assert given_rates(row)["rate_high"] == 14
    put_back(firm, list_versions(row)[1])
    assert row_of(firm).prior_rate == 10


def test_the_start_can_be_put_back():
    firm = make_learning_firm()
    take(firm)
    owner, start = make_member(firm), list_versions(row_of(firm))[-1]

    row = put_back(firm, start, owner)

    assert (row.rate, row.rate_low, row.rate_high, row.setup_hours) == (10, 7, 14, 1)
    assert (row.source, row.prior_rate) == ("starting guess", None)
    assert told(firm)[0] == ("put-back", "10.000")
    line = AuditLine.objects.of(firm).get(action="put rate back")
    assert (line.by, line.detail["after"]["rate"]) == (owner, "10")


def test_a_learned_rate_that_is_put_back_knows_again_what_was_given():
    firm = make_learning_firm()
    take(firm)
    change(firm, rate="9", source="Our own guess")
    learned = RateVersion.objects.of(firm).get(origin="learned")

    row = put_back(firm, learned)

    assert (row.rate, row.prior_rate, row.prior_setup_hours) == (Decimal("7.7"), 10, 1)
    assert given_rates(row)["rate_high"] == 14


def test_the_rate_that_stands_and_one_of_another_task_are_not_put_back():
    firm = make_learning_firm()
    change(firm, rate="12")
    newest = list_versions(row_of(firm))[0]

    with pytest.raises(CannotPutBackRate, match="12 is the rate that stands"):
        put_back(firm, newest)
    with pytest.raises(CannotPutBackRate, match="had no such rate"):
        put_back_rate(firm=firm, code="tile-wall", version_id=newest.pk, at=AT, by=None)
    with pytest.raises(CannotPutBackRate, match="had no such rate"):
        put_back(make_firm("Other Baths"), newest)


def test_a_learned_rate_out_of_order_is_refused():
    firm = make_learning_firm()

    with pytest.raises(CannotTakeRate, match="between its low and its high"):
        take(firm, NewRate(Decimal(7), Decimal(8), Decimal(9), Decimal(1), 3))

    assert told(firm) == []
