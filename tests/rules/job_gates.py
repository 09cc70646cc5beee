"""Who may pass which address of offers' lives, jobs, and change orders."""

from collections.abc import Mapping
from typing import Any

from tests.rules.gate import Gate, Of, everyone, office, public

# What real forms and programs send. Each changes something when the firm's own owner sends it.
_PRESS = {"press": "yes"}
_WHY = {"why": "Taken over"}
_TO = {"to": "ada@example.com"}
_NAME = {"name": "Taken over"}
_ON_PAPER = {
    "name": "Taken over", "signed_on": Of("today"), "how": "Taken over on paper", "ticket": "walk",
}  # fmt: skip
_TERMS = {"billing": "milestones", "retainage_percent": "7"}
_DAYS = {"starts_on": "2026-12-01", "finish_on": "2026-12-04"}
_TAKEN = {"title": "Taken over", "reason": "wish", "finding": "Taken over", "pricing": "fixed"}
_FOUND = {"reason": "wish", "template": "none", "room": "Hall bath", "finding": "Taken over"}
_FOUND_JSON = {"reason": "wish", "finding": "Taken over"}
_WORK = {"work-room": "Hall bath", "work-task": Of("task.code"), "work-quantity": "2"}
_PLAIN = {"plain-description": "Taken over", "plain-category": "labour", "plain-amount": "85.00"}
_FOUND_WORK = {"template": Of("jobs.found.slug"), "room": "Hall bath", "count": "3"}
_SIGNED = {"name": "Taken over", "on_paper": "Taken over on paper", "ticket": "walk"}
_ACTUAL = {"actual": "300.00", "ticket": "walk"}
_LINES = {"lines": [{"kind": "plain", "description": "Taken over", "category": "labour", "amount": "85.00"}]}

_SENT: Mapping[str, str] = {"quote_id": "jobs.sent.pk"}
_JOB: Mapping[str, str] = {"job_id": "jobs.contract.job_id"}
_DRAFT: Mapping[str, str] = {"change_id": "jobs.change.pk"}
_WAITING: Mapping[str, str] = {"change_id": "jobs.sent_change.pk"}
_CEILING: Mapping[str, str] = {"change_id": "jobs.ceiling.pk"}
_WRONG: Mapping[str, str] = {"token": "=wrong-token"}
_NEW: dict[str, Any] = _TAKEN | {"room": "Hall bath", "template": "none", "ticket": "walk"}

OFFER_GATES: dict[str, Gate] = {
    "quote-revise": office(_PRESS, **_SENT),
    "quote-decline": office(_WHY, **_SENT),
    "quote-copy": office({"site": Of("site.pk")}, quote_id="quote.pk"),
    "quote-template": office(_NAME, quote_id="quote.pk"),
    "quote-risk": office(quote_id="quote.pk"),
    "api:read_risk": office(quote_id="quote.pk"),
    "quote-compare": office(other_id="jobs.older.pk", **_SENT),
    "quote-links": office(**_SENT),
    "link-make": office(_PRESS, **_SENT),
    "link-send": office(_TO, **_SENT),
    "link-revoke": office(_PRESS, link_id="jobs.offer_link.pk", **_SENT),
    "accept-on-paper": office(_ON_PAPER, **_SENT),
    "contract-terms": office(_TERMS, **_JOB),
    "offer-public": public(**_WRONG),
    "offer-decline": public(**_WRONG),
    "offer-paper": public(**_WRONG),
    "offer-executed": public(**_WRONG),
    "api:read_new_prices": office(quote_id="quote.pk"),
    "api:get_revisions": office(**_SENT),
    "api:compare_quotes": office(**_SENT).asking(other="jobs.older.pk"),
    "api:revise_quote": office(_PRESS, **_SENT),
    "api:copy_quote": office({"site": None}, quote_id="quote.pk"),
    "api:decline_quote": office(_WHY, **_SENT),
    "api:make_template": office(_NAME, quote_id="quote.pk"),
    "api:get_links": office(**_SENT),
    "api:make_link": office(_PRESS, **_SENT),
    "api:send_link": office(_TO, **_SENT),
    "api:withdraw_link": office(_PRESS, link_id="jobs.offer_link.pk", **_SENT),
    "api:accept_on_paper": office(_ON_PAPER, **_SENT),
    "api:read_contract": office(**_JOB),
    "api:set_contract_terms": office(_TERMS, **_JOB),
}

JOB_GATES: dict[str, Gate] = {
    "jobs": everyone(),
    "job": everyone(**_JOB),
    "job-buying": everyone(**_JOB),
    "hours": office(),
    "hours-csv": office(),
    "hours-entries": office(),
    "hours-entries-csv": office(),
    "hours-kept": office(),
    "hours-kept-csv": office(),
    "api:read_hours": office(),
    "api:read_hours_entries": office(),
    "api:read_kept_ranges": office(),
    "contracts": office(),
    "contract": office(**_JOB),
    "job-days": office(_DAYS, **_JOB),
    "issued-paper": office(pk="jobs.sent.paper.pk"),
    "job-photos": everyone(**_JOB),
    "photo": everyone(photo_id="jobs.photo.pk"),
    "finding-new": everyone(_FOUND, **_JOB),
    "api:get_jobs": everyone(),
    "api:read_job": everyone(**_JOB),
    "api:read_job_buying_list": everyone(**_JOB),
    "api:set_days": office(_DAYS, **_JOB),
    "api:get_photos": everyone(**_JOB),
    "api:add_job_photo": everyone(**_JOB),
    "api:read_photo": everyone(photo_id="jobs.photo.pk"),
    "api:report_finding": everyone(_FOUND_JSON, **_JOB),
}

CHANGE_GATES: dict[str, Gate] = {
    "job-changes": office(**_JOB),
    "change-new": office(_NEW, **_JOB),
    "change": office(**_DRAFT),
    "change-paper": office(**_WAITING),
    "change-words": office(_TAKEN, **_DRAFT),
    "change-add-work": office(_WORK, **_DRAFT),
    "change-add-template": office(_FOUND_WORK, **_DRAFT),
    "change-add-line": office(_PLAIN, **_DRAFT),
    "change-add-credit": office({"key": "Hall bath/harbor-task"}, **_DRAFT),
    "change-settle-allowance": office({"description": "Wall tile", "chosen": "120.00"}, **_DRAFT),
    "change-drop-line": office({"place": "0"}, **_DRAFT),
    "change-photos": office({"photo": Of("jobs.loose_photo.pk")}, **_DRAFT),
    "change-drop-photo": office({"photo": Of("jobs.photo.pk")}, **_DRAFT),
    "change-send": office(_PRESS, **_DRAFT),
    "change-link": office(_PRESS, **_WAITING),
    "change-approve": office(_SIGNED, **_WAITING),
    "change-decline": office(_WHY, **_WAITING),
    "change-withdraw": office(_WHY, **_WAITING),
    "change-start": office(_PRESS, **_WAITING),
    "change-settle": office(_ACTUAL, **_CEILING),
    "public-change": public(**_WRONG),
    "public-change-paper": public(**_WRONG),
    "public-change-executed": public(**_WRONG),
    "public-change-photo": public(photo_id="jobs.photo.pk", **_WRONG),
    "public-change-decline": public(**_WRONG),
    "api:get_changes": office(**_JOB),
    "api:get_change_offers": office(**_JOB),
    "api:preview_change": office(**_JOB),
    "api:raise_change_order": office(_TAKEN | _LINES, **_JOB),
    "api:read_change": office(**_DRAFT),
    "api:edit_change_order": office(_TAKEN | _LINES, **_DRAFT),
    "api:send_change_order": office(_PRESS, **_DRAFT),
    "api:renew_change_link": office(_PRESS, **_WAITING),
    "api:approve_change_on_paper": office(_SIGNED, **_WAITING),
    "api:decline_change_order": office(_WHY, **_WAITING),
    "api:withdraw_change_order": office(_WHY, **_WAITING),
    "api:mark_change_started": office(_PRESS, **_WAITING),
    "api:settle_change": office(_ACTUAL, **_CEILING),
    "api:attach_change_photos": office({"photos": [Of("jobs.loose_photo.pk")]}, **_DRAFT),
    "api:read_change_paper": office(**_WAITING),
}
