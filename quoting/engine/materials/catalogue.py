"""A firm's materials and the rules by which its tasks use them, together, as one plain value."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from quoting.engine.materials.values import ConsumptionRule, Material


@dataclass(frozen=True, slots=True)
class Catalogue:
    """materials: by code. rules: by the code of the task that uses them; a task of pure labour has none."""

    materials: Mapping[str, Material] = field(default_factory=dict)
    rules: Mapping[str, tuple[ConsumptionRule, ...]] = field(default_factory=dict)
