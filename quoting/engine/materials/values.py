"""Materials, the rules by which a task uses them, and what must be bought, as plain values."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import StrEnum

from labour.engine.why import Why
from quoting.engine.pricing.values import Category


@dataclass(frozen=True, slots=True)
class Material:
    """Something that is bought, in packs.

    content_unit: what is counted inside a pack ("lb", "gal", "sheet", "sq ft", "each"). price: of one
    pack, None while it is not known. category: MATERIAL, or ALLOWANCE for what the client chooses, or
    EQUIPMENT, DISPOSAL, PERMIT for hired and paid items.
    """

    code: str
    name: str
    category: Category
    content_unit: str
    pack_name: str
    pack_size: Decimal
    price: Decimal | None
    priced_on: date | None = None
    supplier: str = ""


class RuleKind(StrEnum):
    """The ways in which a task uses a material; `consumption.py` holds the arithmetic of each."""

    EACH = "each"
    COVERAGE = "coverage"
    FILM = "film"
    BED = "bed"
    GROUT = "grout"
    DEPTH = "depth"
    SHEET = "sheet"
    FASTENERS = "fasteners"
    LENGTH = "length"


@dataclass(frozen=True, slots=True)
class ConsumptionRule:
    """How a task uses a material.

    values: the figures that the kind asks for. waste: percent added. when: expression over the room's
    facts and quantities; empty means always. source: where the figures come from.
    """

    task_code: str
    material_code: str
    kind: RuleKind
    values: Mapping[str, Decimal] = field(default_factory=dict)
    waste: Decimal = Decimal(0)
    when: str = ""
    source: str = "starting guess"


@dataclass(frozen=True, slots=True)
class Use:
    """What one line of work uses of one material, in its content unit, waste included, not rounded."""

    key: str
    material_code: str
    amount: Decimal
    why: Why


@dataclass(frozen=True, slots=True)
class Purchase:
    """What to buy of one material for the whole job: packs are rounded up here, once.

    cost: packs × price, None when the price is missing. shares: line key → its part of the cost, to
    the cent, together exactly the cost (empty when the price is missing).
    """

    material: Material
    amount: Decimal
    packs: int
    leftover: Decimal
    cost: Decimal | None
    shares: Mapping[str, Decimal]
    uses: tuple[Use, ...]
    why: Why
