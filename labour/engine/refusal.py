"""How anything in the house says no: which field, and what would be right."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong. field: path to it ("rooms[0].openings[1].width"), "" for the whole."""

    field: str
    message: str

    def __str__(self) -> str:
        return f"{self.field}: {self.message}" if self.field else self.message


class Refusal(Exception):
    """Nothing was done, for these reasons. Subclasses are named `Cannot…` or `Bad…`."""

    def __init__(self, *problems: Problem | str) -> None:
        self.problems = tuple(p if isinstance(p, Problem) else Problem("", p) for p in problems)
        super().__init__("; ".join(str(problem) for problem in self.problems))
