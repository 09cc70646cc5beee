"""Who may pass which address of the daily log."""

from collections.abc import Mapping
from typing import Any

from tests.rules.gate import Gate, Of, everyone, owner

_JOB: Mapping[str, str] = {"job_id": "jobs.contract.job_id"}
_ENTRY: Mapping[str, str] = {"entry_id": "jobs.entry.pk"}
_WHY = {"why": "Taken over"}
_FORM: dict[str, Any] = {"on": Of("today"), "worker": Of("worker.pk"), "hours": "2", "sure": "on"}
_JSON: dict[str, Any] = {"on": Of("today"), "worker": Of("worker.pk"), "hours": "2", "sure": True}
_MORE = {"code": Of("task.code"), "room": "Taken over", "quantity": "2"}

LOG_GATES: dict[str, Gate] = {
    "my-log": everyone(),
    "job-log": everyone(_FORM, **_JOB),
    "log-more": everyone(_MORE, **_JOB),
    "log-entry": everyone(_FORM | _WHY, **_JOB, **_ENTRY),
    "log-repeat": everyone({"ticket": "walk"}, **_JOB, **_ENTRY),
    "log-strike": everyone(_WHY, **_JOB, **_ENTRY),
    "worker-tie": owner({"member": Of("crew.pk")}, pk="worker.pk"),
    "api:get_log": everyone(**_JOB),
    "api:log_hours": everyone(_JSON, **_JOB),
    "api:plan_more": everyone(_MORE, **_JOB),
    "api:correct_log_entry": everyone(_JSON | _WHY, **_ENTRY),
    "api:strike_log_entry": everyone(_WHY, **_ENTRY),
    "api:get_my_week": everyone(),
    "api:tie_worker": owner({"person": Of("crew.pk")}, worker_id="worker.pk"),
}
