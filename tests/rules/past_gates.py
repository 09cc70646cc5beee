"""Who may pass which address of past jobs."""

from tests.rules.gate import Gate, Of, office

_PRESS = {"press": "yes"}
_MATCHING = {"columns": {"job": 0}, "tasks": {}, "day_order": "day-first", "own_units": True}
_MATCH = {"column-job": "0", "day_order": "day-first", "own_units": "on"}
_WAITING = {"table_id": "past.waiting.pk"}
_TAKEN = {"table_id": "past.taken.pk"}

PAST_GATES: dict[str, Gate] = {
    "past": office({"name": "Taken over", "text": "Job,Hours\nElm,2"}),
    "past-table": office(**_WAITING),
    "past-match": office(_MATCH, **_WAITING),
    "past-take": office(_PRESS, **_WAITING),
    "past-put-out": office(_PRESS, **_TAKEN),
    "past-drop": office(_PRESS, **_WAITING),
    "api:get_past_tables": office(),
    "api:bring_past_table": office({"name": "Taken over", "rows": [["Job"], [Of("task.code")]]}),
    "api:read_past_table": office(**_WAITING),
    "api:match_past_table": office(_MATCHING, **_WAITING),
    "api:take_past_table": office(_PRESS, **_WAITING),
    "api:put_out_past_table": office(_PRESS, **_TAKEN),
    "api:drop_past_table": office(**_WAITING),
}
