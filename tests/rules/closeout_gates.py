"""Who may pass which address of a job's costs and of its end."""

from tests.rules.gate import Gate, office, owner

_PRESS = {"press": "yes"}
_OPEN = {"job_id": "closings.open.job_id"}
_CLOSED = {"job_id": "closings.closed.job_id"}
_COST = {"on": "2026-11-02", "category": "material", "amount": "12.50", "note": "Taken over"}
_ONE = {"cost_id": "closings.cost.pk"} | _OPEN
_WHY = {"why": "Taken over"}

CLOSEOUT_GATES: dict[str, Gate] = {
    "job-costs": office(_COST, **_OPEN),
    "job-cost-strike": office(_PRESS, **_ONE),
    "job-close": office(_PRESS, **_OPEN),
    "closeout": office(**_CLOSED),
    "closeout-pdf": office(**_CLOSED),
    "closeout-csv": office(**_CLOSED),
    "job-reopen": owner(_WHY, **_CLOSED),
    "api:get_job_costs": office(**_OPEN),
    "api:add_job_cost": office(_COST, **_OPEN),
    "api:strike_job_cost": office(_PRESS, **_ONE),
    "api:get_closing": office(**_OPEN),
    "api:close_job_out": office({"quantities": []}, **_OPEN),
    "api:read_closeout": office(**_CLOSED),
    "api:read_closeout_paper": office(**_CLOSED),
    "api:reopen_closed_job": owner(_WHY, **_CLOSED),
}
