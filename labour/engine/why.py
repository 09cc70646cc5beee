"""The answer to "why?": how a figure came about."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Why:
    """How a figure came about.

    formula: in words ("set-up + quantity ÷ rate × conditions").
    worked: the same with its numbers ("0.50 + 40.00 ÷ 14 × 1.12 = 3.70 h").
    source: where the rate or price came from ("starting guess", "catalogue, 2026-10-01").
    """

    formula: str
    worked: str
    source: str = ""

    def texts(self) -> dict[str, str]:
        """The three texts by name, for storing and showing."""
        return {"formula": self.formula, "worked": self.worked, "source": self.source}
