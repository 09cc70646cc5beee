"""Draws of what a firm may be like: what a prediction needs and what a site keeps.

Tasks and conditions that never occurred are not kept: they are drawn from their prior when predicted, so that
the kept size depends on what was seen.
"""

import io
import json
from dataclasses import asdict, dataclass

import numpy as np

from labour.engine.rates.columns import Columns, Floats
from labour.engine.rates.values import Book, Priors, TaskBook


@dataclass(frozen=True)
class Draws:
    """One row a draw. effects: draws × `kept` columns. scatter, house, stray: the spreads (scales, if t).

    kept: columns of the tasks and conditions that occurred, and of firm, trades and size. row_df, job_df:
    degrees of freedom of scatter and house; None is normal.
    """

    book: Book
    priors: Priors
    kept: Columns
    effects: Floats
    scatter: Floats
    house: Floats
    stray: Floats
    row_df: float | None = None
    job_df: float | None = None

    def __len__(self) -> int:
        return len(self.scatter)

    def to_bytes(self) -> bytes:
        """Compressed arrays in single precision; holds no code that could run."""
        told = {
            "tasks": [[task.code, task.trade, task.spread] for task in self.book.tasks],
            "conditions": dict(self.book.conditions),
            "trades": self.kept.trades,
            "kept_tasks": [task.code for task in self.kept.book.tasks],
            "kept_conditions": list(self.kept.book.conditions),
            "priors": asdict(self.priors),
            "row_df": self.row_df,
            "job_df": self.job_df,
        }
        out = io.BytesIO()
        np.savez_compressed(
            out,
            told=np.frombuffer(json.dumps(told).encode(), dtype=np.uint8),
            effects=self.effects.astype(np.float32),
            spreads=np.array([self.scatter, self.house, self.stray], dtype=np.float32),
        )
        return out.getvalue()

    @staticmethod
    def from_bytes(kept: bytes) -> "Draws":
        """What `to_bytes` wrote."""
        with np.load(io.BytesIO(kept), allow_pickle=False) as arrays:
            told = json.loads(arrays["told"].tobytes())
            effects = arrays["effects"].astype(np.float64)
            scatter, house, stray = arrays["spreads"].astype(np.float64)
        tasks = {code: TaskBook(code, trade, spread) for code, trade, spread in told["tasks"]}
        book = Book(tuple(tasks.values()), told["conditions"])
        seen = Book(
            tuple(tasks[code] for code in told["kept_tasks"]),
            {name: told["conditions"][name] for name in told["kept_conditions"]},
        )
        priors = told["priors"]
        for name in ("scatter", "house", "stray"):
            priors[name] = tuple(priors[name])
        return Draws(
            book,
            Priors(**priors),
            Columns(seen, tuple(told["trades"])),
            effects,
            scatter,
            house,
            stray,
            told["row_df"],
            told["job_df"],
        )
