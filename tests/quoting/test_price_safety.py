"""How safe a firm wants its prices, and what its jobs found behind the surfaces that they opened."""

from decimal import Decimal
from typing import Any

import pytest

from labour.engine.refusal import Refusal
from labour.firm.models import AuditLine, Firm, Role
from labour.work.models import Job
from quoting.price.checks import SafetyTerms, problems_of_safety
from quoting.price.findings import CannotRecordFindings, FindingWords, count_found, record_findings
from quoting.price.queries import get_price_settings, safety_of
from quoting.price.services import start_price_settings
from tests.log_makers import make_job
from tests.makers import AT, make_firm, make_member
from tests.quoting.api_caller import caller_of

ROT = "subfloor-rot"


@pytest.fixture
def firm(db: None) -> Firm:
    firm = make_firm()
    start_price_settings(firm=firm)
    return firm


def record(job: Job, *findings: FindingWords) -> None:
    record_findings(firm=job.firm, job=job, findings=findings, at=AT, by=None)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("wanted_margin", "100"),
        ("wanted_margin", "-1"),
        ("wanted_margin", "NaN"),
        ("wanted_chance", "49.99"),
        ("wanted_chance", "100"),
        ("wanted_chance", "Infinity"),
        ("material_spread", "50.01"),
        ("material_spread", "-0.01"),
    ],
)
def test_a_percentage_that_nothing_can_be_judged_by_is_named(field: str, value: str) -> None:
    given: dict[str, Any] = {field: Decimal(value)}

    assert [problem.field for problem in problems_of_safety(SafetyTerms(**given))] == [field]


def test_the_ends_of_the_ranges_are_fine() -> None:
    assert not problems_of_safety(SafetyTerms(Decimal(0), Decimal(50), Decimal(0)))
    assert not problems_of_safety(SafetyTerms(Decimal("99.99"), Decimal("99.99"), Decimal(50)))


def test_a_program_sets_how_safe_prices_should_be(firm: Firm) -> None:
    caller = caller_of(make_member(firm, Role.OWNER))
    document = caller.get("/price-settings")
    document["safety"] = {"wanted_margin": "12.5", "wanted_chance": "90", "material_spread": "8"}

    caller.do("put", "/price-settings", document)

    assert safety_of(get_price_settings(firm)) == SafetyTerms(Decimal("12.5"), Decimal(90), Decimal(8))


def test_a_chance_too_low_is_refused_by_its_field(firm: Firm) -> None:
    caller = caller_of(make_member(firm, Role.OWNER))
    document = caller.get("/price-settings")
    document["safety"]["wanted_chance"] = "20"

    problem = caller.refused("put", "/price-settings", document)

    assert "wanted_chance" in str(problem)
    assert get_price_settings(firm).wanted_chance == 80


def test_findings_of_jobs_are_counted_by_kind(firm: Firm) -> None:
    record(make_job(firm), FindingWords(ROT, was_found=True, cost=Decimal(640), old_house=True))
    record(make_job(firm, number="J-0002"), FindingWords(ROT, was_found=False))

    found = count_found(firm)[ROT]

    assert (found.opened, found.found, found.costs) == (2, 1, (640.0,))
    assert (found.old_opened, found.old_found) == (1, 1)
    assert count_found(make_firm("Elsewhere Baths")) == {}


def test_what_is_recorded_again_replaces_what_was_known(firm: Firm) -> None:
    job = make_job(firm)
    record(job, FindingWords(ROT, was_found=True))

    record(job, FindingWords(ROT, was_found=False), FindingWords("old-wiring", was_found=True))

    counts = count_found(firm)
    assert (counts[ROT].found, counts["old-wiring"].found) == (0, 1)
    assert AuditLine.objects.of(firm).filter(action="record findings").count() == 2


@pytest.mark.parametrize(
    ("findings", "field"),
    [
        ([FindingWords("treasure", was_found=True)], "findings[0].kind"),
        ([FindingWords(ROT, was_found=True), FindingWords(ROT, was_found=False)], "findings[1].kind"),
        ([FindingWords(ROT, was_found=True, cost=Decimal(-1))], "findings[0].cost"),
        ([FindingWords(ROT, was_found=False, cost=Decimal(5))], "findings[0].cost"),
        ([FindingWords(ROT, was_found=True, cost=Decimal("1e15"))], "findings[0].cost"),
    ],
)
def test_a_finding_that_can_not_be_meant_is_refused(
    firm: Firm, findings: list[FindingWords], field: str
) -> None:
    job = make_job(firm)

    with pytest.raises(CannotRecordFindings) as refusal:
        record(job, *findings)

    assert [problem.field for problem in refusal.value.problems] == [field]
    assert count_found(firm) == {}


def test_a_job_of_another_firm_takes_no_findings(firm: Firm) -> None:
    job = make_job(make_firm("Elsewhere Baths"))

    with pytest.raises(Refusal):
        record_findings(firm=firm, job=job, findings=[], at=AT, by=None)
