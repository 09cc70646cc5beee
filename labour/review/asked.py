"""What is asked of the hours: by what they are put together, and which of them are looked at."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Self
from urllib.parse import urlencode

from labour.engine.compared import By


class Which(StrEnum):
    """Which jobs are looked at."""

    CLOSED = "closed"
    RUNNING = "running"
    ALL = "all"


@dataclass(frozen=True, slots=True)
class Asked:
    """A question. keys: only these groups, by the key that `Compared` has. first, last: months, "2026-11"."""

    by: By = By.TASK
    which: Which = Which.CLOSED
    keys: Mapping[By, str] = field(default_factory=dict)
    first: str = ""
    last: str = ""

    @property
    def job_id(self) -> int | None:
        """The only job that is looked at, if it is one."""
        return int(self.keys[By.JOB]) if By.JOB in self.keys else None

    @property
    def is_narrowed(self) -> bool:
        """Whether only some of the hours are looked at."""
        return bool(self.keys or self.first or self.last)

    def only(self, by: By, key: str) -> Self:
        """The same question of one group alone."""
        return replace(self, keys={**self.keys, by: key})

    def without(self, by: By) -> Self:
        """The same question, no longer of one group alone."""
        return replace(self, keys={name: key for name, key in self.keys.items() if name is not by})

    def query(self) -> str:
        """The question as what follows the "?" of an address."""
        months = {name: value for name, value in (("first", self.first), ("last", self.last)) if value}
        keys = {by.value: key for by, key in self.keys.items()}
        return urlencode({"by": self.by.value, "which": self.which.value} | keys | months)
