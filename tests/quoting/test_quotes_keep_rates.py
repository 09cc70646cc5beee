"""Learned rates move the book with consent; quotes that are made already keep what they were priced with."""

from copy import deepcopy
from decimal import Decimal

import pytest

from labour.learn.deciding import take_all_proposals
from labour.learn.services import learn_rates
from labour.work.models import Job
from quoting.offer.services import reprice_quote, send_quote
from tests.hall_firm import make_hall_firm, make_hall_quote
from tests.labour.learn_cast import row_of
from tests.labour.review_cast import log, plan_job, plan_task
from tests.makers import AT
from tests.quoting.api_caller import make_caller

pytestmark = pytest.mark.django_db
CODE = "tile-wall"


def teach(firm, count=6, slower=1.5):
    """Closed jobs whose wall tile took longer than the book; the owner takes what they say."""
    row = row_of(firm, CODE)
    for number in range(count):
        job = plan_job(firm, f"P-{number:04d}")
        task = plan_task(job, CODE, "60", unit=row.unit)
        hours = slower * float(row.setup_hours + Decimal(60) / row.rate)
        log(None, f"{hours:.2f}", task)
    learn_rates(firm=firm, at=AT)
    take_all_proposals(firm=firm, at=AT, by=None)


def tile_line(quote):
    return next(line for line in quote.figures["firm_view"]["lines"] if line["code"] == CODE)


def test_an_old_quote_keeps_its_rates_hours_and_price():
    firm, owner = make_hall_firm()
    quote = make_hall_quote(firm, owner)
    before, total = deepcopy(quote.figures), quote.total

    teach(firm)

    quote.refresh_from_db()
    assert row_of(firm, CODE).source == "learned from your 6 jobs"
    assert (quote.figures, quote.total) == (before, total)
    new = make_hall_quote(firm, owner)
    assert Decimal(tile_line(new)["hours"]["hours"]) > Decimal(tile_line(quote)["hours"]["hours"])
    assert Decimal(tile_line(new)["hours"]["rate"]) == row_of(firm, CODE).rate
    assert new.total > total


def test_a_draft_that_is_priced_again_takes_the_learned_rate():
    firm, owner = make_hall_firm()
    quote = make_hall_quote(firm, owner)
    total = quote.total
    teach(firm)

    again = reprice_quote(firm=firm, quote_id=quote.pk, at=AT, by=owner)

    assert again.total > total
    assert tile_line(again)["hours"]["why"]["source"] == "learned from your 6 jobs"


def test_an_accepted_quote_makes_a_job_whose_hours_are_stated():
    firm, owner = make_hall_firm()
    teach(firm)
    quote = make_hall_quote(firm, owner)
    send_quote(firm=firm, quote_id=quote.pk, at=AT, by=owner)

    signed = {"name": "Ada Brook", "signed_on": AT.date().isoformat()}
    contract = make_caller(firm).do("post", f"/quotes/{quote.pk}/accepted-on-paper", signed)

    job = Job.objects.of(firm).get(pk=contract["job_id"])
    assert job.stated_low < job.stated_low50 < job.stated_hours < job.stated_high50 < job.stated_high
    assert job.stated_from == 6
    assert all(task.expected for task in job.tasks.all())
