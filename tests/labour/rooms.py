"""A measured room for tests: every figure of the vocabulary is nothing unless it is named."""

from decimal import Decimal

from labour.engine.scope import RoomFigures
from labour.engine.vocabulary import FACTS, QUANTITIES
from labour.engine.why import Why


def make_figures(
    *conditions: str, facts: dict[str, str] | None = None, name: str = "Hall bath", **quantities: str
) -> RoomFigures:
    """A room with these quantities (feet to the dimension), facts and conditions."""
    given = {key: Decimal(value) for key, value in quantities.items()}
    return RoomFigures(
        name=name,
        quantities={q.name: Decimal(0) for q in QUANTITIES} | {"room_count": Decimal(1)} | given,
        why={q.name: Why(q.meaning, "") for q in QUANTITIES},
        facts={key: values[0] for key, values in FACTS.items()} | (facts or {}),
        conditions=frozenset(conditions),
    )
