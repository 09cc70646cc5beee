"""A figure known as low, likely and high: its middle, how far it strays, the chance not to pass a figure."""

from dataclasses import dataclass

from labour.engine.refusal import Problem, Refusal


class BadThreePoint(Refusal):
    """Low, likely and high that are no estimate."""


@dataclass(frozen=True, slots=True)
class ThreePoint:
    """low ≤ likely ≤ high, low < high, in one unit of the caller's. Raise BadThreePoint."""

    low: float
    likely: float
    high: float

    def __post_init__(self) -> None:
        if not self.low <= self.likely <= self.high or self.low == self.high:
            wanted = "must rise from low to high, with the likely one between them"
            raise BadThreePoint(Problem("likely", f"{self.low}, {self.likely}, {self.high} {wanted}."))

    @property
    def mean(self) -> float:
        """(low + 4 · likely + high) ÷ 6."""
        return (self.low + 4 * self.likely + self.high) / 6

    @property
    def sd_by_rule(self) -> float:
        """(high − low) ÷ 6: the usual rule of thumb."""
        return (self.high - self.low) / 6

    @property
    def shapes(self) -> tuple[float, float]:
        """Alpha and beta of the beta distribution between low and high that has this mean.

        alpha = 1 + 4 · (likely − low) ÷ (high − low), beta = 1 + 4 · (high − likely) ÷ (high − low).
        """
        width = self.high - self.low
        return 1 + 4 * (self.likely - self.low) / width, 1 + 4 * (self.high - self.likely) / width

    @property
    def sd(self) -> float:
        """Standard deviation of that beta distribution; the rule of thumb is only near it."""
        alpha, beta = self.shapes
        both = alpha + beta
        return (self.high - self.low) * float((alpha * beta / (both**2 * (both + 1))) ** 0.5)

    def quantile(self, chance: float) -> float:
        """What is not passed with this chance."""
        from scipy.stats import beta as beta_law

        return self.low + (self.high - self.low) * float(beta_law.ppf(chance, *self.shapes))

    def chance_within(self, figure: float) -> float:
        """The chance that the figure is not passed."""
        from scipy.stats import beta as beta_law

        return float(beta_law.cdf((figure - self.low) / (self.high - self.low), *self.shapes))
