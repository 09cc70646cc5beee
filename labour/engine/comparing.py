"""Estimated against actual, with pandas: shares of logged hours and planned tasks come in, sums go out.

Everything is counted in whole hundredths of an hour and whole cents, so that any grouping adds up exactly.
What a task was estimated at lies on its hours in proportion, so that workers, roles and months add up to the
same total; a task without hours stands alone.
"""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

import pandas as pd

from labour.engine.compared import NONE, By, Compared
from labour.engine.vocabulary import Phase

HOURS_COLUMNS = (
    *("job_id", "job", "task_id", "code", "name", "phase", "unit", "worker_id", "worker", "role"),
    *("month", "on", "entry_id", "hours", "hour_cost"),
)
"""A row a share of an entry, in Decimal. task_id: 0 where no task is named; worker_id: 0 where not known.

hour_cost: what the worker's hour cost; the standard wage where it is None or NaN. month: "2026-11".
"""
TASKS_COLUMNS = (
    *("job_id", "job", "task_id", "code", "name", "phase", "unit", "planned", "done", "estimated"),
    *("standard", "wage"),
)
"""A row a planned task, in Decimal. planned, done: quantities. estimated: hours as planned; standard: hours
of the done quantity by the planned rate. wage: standard wage an hour."""

_MEASURES = ("eh", "sh", "ah", "ec", "sc", "asc", "ac", "eq", "aq")
_NO_TASK, _NOBODY, _NO_ROLE, _NO_MONTH = "No task named", "Not known who", "No trade named", "No hours logged"


def lay_out(hours: pd.DataFrame, tasks: pd.DataFrame, wage: Decimal = Decimal(0)) -> pd.DataFrame:
    """The ledger: a row a share of hours with its part of what was estimated, and one a task without hours.

    wage: standard wage of hours on no task. Columns: a key and a label for each `By`; in hundredths of an
    hour eh (estimated), sh (standard), ah (actual); in cents ec, sc, asc (actual hours at the standard wage),
    ac (actual); in hundredths of the unit eq, aq; job_id, code, unit, entry_id, hours' `on`.
    """
    rows = hours.sort_values(["on", "entry_id", "task_id"], kind="stable").reset_index(drop=True)
    planned = tasks.set_index("task_id", drop=False)
    standing = set(rows["task_id"])
    ledger = pd.DataFrame({name: rows[name] for name in rows.columns if name not in ("hours", "hour_cost")})
    ledger["ah"] = _whole(rows["hours"])
    wages = _of_task(planned["wage"], rows["task_id"], wage)
    cents = _whole(wages)
    costs = _whole(rows["hour_cost"].where(rows["hour_cost"].notna(), wages))
    worked = [rows["job_id"], rows["task_id"]]
    ledger["asc"] = _priced(ledger["ah"], cents, worked)
    ledger["ac"] = _priced(ledger["ah"], costs, [rows["entry_id"]])
    amounts = _task_amounts(planned)
    for name in amounts.columns:
        ledger[name] = _laid_on(ledger["ah"], _of_task(amounts[name], rows["task_id"], 0), worked)
    idle = planned[~planned["task_id"].isin(standing)]
    ledger = pd.concat([ledger, _idle(idle, amounts)], ignore_index=True) if len(idle) else ledger
    return _with_keys(ledger)


def pick(ledger: pd.DataFrame, keys: Mapping[By, str], first: str = "", last: str = "") -> pd.DataFrame:
    """The rows of these groups, and of the months from first to last ("2026-11"), both included."""
    wanted = pd.Series(True, index=ledger.index)
    for by, key in keys.items():
        wanted &= ledger[by.value] == key
    if first or last:
        wanted &= ledger["month"] != NONE
    if first:
        wanted &= ledger["month"] >= first
    if last:
        wanted &= ledger["month"] <= last
    return ledger[wanted]


def compare(ledger: pd.DataFrame, by: By) -> tuple[Compared, ...]:
    """The ledger by one of its groups: tasks and phases in the order of the work, jobs newest first."""
    found = _grouped(ledger, by.value, f"{by.value}_label")
    return tuple(row for _, row in sorted(found, key=lambda pair: _place(by, *pair)))


def compare_tasks(ledger: pd.DataFrame) -> list[tuple[int, Compared]]:
    """The ledger by planned task, in the order of the jobs; task 0 stands for hours on none."""
    found = [(int(row.key), row) for _, row in _grouped(ledger, "task_id", "name")]
    return sorted(found, key=lambda pair: pair[0])


def add_up(ledger: pd.DataFrame) -> Compared:
    """All of the ledger in one row."""
    if ledger.empty:
        zero = Decimal("0.00")
        return Compared("", "All", zero, zero, zero, zero, zero, zero, zero, None, None, "", 0, 0)
    facts = {
        "label": "All",
        "code": ledger["code"].nunique(),
        "units": ledger["unit"].nunique(),
        "unit": ledger["unit"].iloc[0],
        "entries": _count(ledger["entry_id"]),
        "jobs": ledger["job_id"].nunique(),
    }
    return _compared("", facts, ledger[list(_MEASURES)].sum())


def _grouped(ledger: pd.DataFrame, key: str, label: str) -> list[tuple[str, Compared]]:
    """Each group with the phase of its first row."""
    groups = ledger.groupby(key, sort=False)
    sums = groups[list(_MEASURES)].sum()
    facts = groups.agg(
        label=(label, "first"),
        code=("code", "nunique"),
        units=("unit", "nunique"),
        unit=("unit", "first"),
        phase=("phase", "first"),
        entries=("entry_id", _count),
        jobs=("job_id", "nunique"),
    )
    return [(fact["phase"], _compared(str(key), fact, sums.loc[key])) for key, fact in facts.iterrows()]


def _task_amounts(tasks: pd.DataFrame) -> pd.DataFrame:
    """What each task was estimated at, whole."""
    wage = _whole(tasks["wage"])
    made = pd.DataFrame({"eh": _whole(tasks["estimated"]), "sh": _whole(tasks["standard"])})
    made["ec"], made["sc"] = _cents(made["eh"] * wage), _cents(made["sh"] * wage)
    made["eq"], made["aq"] = _whole(tasks["planned"]), _whole(tasks["done"])
    return made


def _idle(tasks: pd.DataFrame, amounts: pd.DataFrame) -> pd.DataFrame:
    """Tasks on which no hours were logged: by nobody, in no month."""
    named = tasks[["job_id", "job", "task_id", "code", "name", "phase", "unit"]]
    made = named.join(amounts).reset_index(drop=True)
    empty = {"worker_id": 0, "worker": "", "role": "", "month": "", "on": None, "entry_id": 0}
    return made.assign(**empty, ah=0, asc=0, ac=0)


def _with_keys(ledger: pd.DataFrame) -> pd.DataFrame:
    """The ledger with a key and a label for every way to group it."""
    idle = ledger["entry_id"] == 0
    known = ledger["worker_id"] != 0
    labels = {phase.value: phase.label for phase in Phase}
    worker, role = (
        ledger["worker"].where(known, _NOBODY),
        ledger["role"].where(ledger["role"] != "", _NO_ROLE),
    )
    made: dict[str, Any] = {
        "task": ledger["code"].where(ledger["code"] != "", NONE),
        "task_label": ledger["name"].where(ledger["code"] != "", _NO_TASK),
        "phase": ledger["phase"].where(ledger["phase"] != "", NONE),
        "phase_label": ledger["phase"].map(labels).fillna(_NO_TASK),
        "job": ledger["job_id"].astype(str),
        "job_label": ledger["job"],
        "worker": ledger["worker_id"].astype(str).where(known, NONE),
        "worker_label": worker.where(~idle, _NO_MONTH),
        "role": ledger["role"].where(known & (ledger["role"] != ""), NONE),
        "role_label": role.where(~idle, _NO_MONTH),
        "month": ledger["month"].where(~idle, NONE),
        "month_label": ledger["month"].where(~idle, _NO_MONTH),
    }
    return ledger.drop(columns=["worker", "role"]).assign(**made)


def _compared(key: str, fact: Any, sums: Any) -> Compared:
    single = int(fact["code"]) == 1 and int(fact["units"]) == 1 and fact["unit"] != ""
    number = {name: Decimal(int(sums[name])).scaleb(-2) for name in _MEASURES}
    return Compared(
        key=key,
        label=str(fact["label"]),
        estimated=number["eh"],
        standard=number["sh"],
        actual=number["ah"],
        estimated_cost=number["ec"],
        standard_cost=number["sc"],
        actual_at_standard=number["asc"],
        actual_cost=number["ac"],
        planned=number["eq"] if single else None,
        done=number["aq"] if single else None,
        unit=str(fact["unit"]) if single else "",
        entries=int(fact["entries"]),
        jobs=int(fact["jobs"]),
    )


def _place(by: By, phase: str, row: Compared) -> tuple[int, str]:
    """Where a group stands: unknown ones last."""
    if row.key == NONE:
        return 1_000_000_000, ""
    if by in (By.TASK, By.PHASE):
        return (Phase(phase).position if phase in list(Phase) else len(Phase)), row.label.casefold()
    if by is By.JOB:
        return -int(row.key), ""
    return 0, row.key if by is By.MONTH else row.label.casefold()


def _count(entry_ids: pd.Series) -> int:
    """How many entries; 0 stands for none."""
    return int(entry_ids[entry_ids != 0].nunique())


def _whole(column: pd.Series) -> pd.Series:
    """Decimals as whole hundredths or cents."""
    return pd.Series([int(value.scaleb(2)) for value in column], index=column.index, dtype="int64")


def _of_task(column: pd.Series, task_ids: pd.Series, otherwise: object) -> pd.Series:
    """What a task has, beside each share of its hours."""
    return pd.Series(column.reindex(task_ids, fill_value=otherwise).to_numpy(), index=task_ids.index)


def _cents(product: pd.Series) -> pd.Series:
    """Hundredths of an hour × cents an hour, as whole cents, half up."""
    return (product + 50) // 100


def _priced(hours: pd.Series, cents: pd.Series, groups: list[pd.Series]) -> pd.Series:
    """Cents of each share, so that a group whose hours cost alike adds up to their cost, rounded once."""
    product = hours * cents
    upto = product.groupby(groups).cumsum()
    return _cents(upto) - _cents(upto - product)


def _laid_on(hours: pd.Series, whole: pd.Series, groups: list[pd.Series]) -> pd.Series:
    """The whole of each group shared over its hours in proportion; the shares add up to the whole.

    Multiplied in Python's own whole numbers, which never overflow.
    """
    upto = hours.groupby(groups).cumsum()
    total, before, large = hours.groupby(groups).transform("sum"), upto - hours, whole.astype(object)
    shares = upto * large // total - before * large // total
    return shares.astype("int64")
