"""One line of work or one item of a room, as a plain value."""

from dataclasses import dataclass
from decimal import Decimal

from labour.engine.scope import RoomFigures
from labour.engine.tasks import Task
from labour.engine.units import UNITS, Unit
from labour.engine.vocabulary import Phase
from labour.engine.why import Why
from quoting.engine.materials.values import Material
from quoting.engine.pricing.values import Category

ITEM_PHASES = {
    Category.MATERIAL: Phase.FINISH,
    Category.ALLOWANCE: Phase.FIXTURES,
    Category.EQUIPMENT: Phase.PROTECTION,
    Category.DISPOSAL: Phase.CLEAN_UP,
    Category.PERMIT: Phase.ROUGH_IN,
    Category.SUBCONTRACT: Phase.DEMOLITION,
}
"""Phase under which an item is shown, by its category."""


@dataclass(frozen=True, slots=True)
class WorkLine:
    """One line of a room: a task or an item. quantity: in its own unit, to the hundredth.

    key: "room/code", with "#2" and so on when a code comes again; stays the same when a quote is re-priced.
    unless: names of options that take the line's place: when one of them is taken, the line goes.
    """

    key: str
    figures: RoomFigures
    subject: Task | Material
    quantity: Decimal
    why: Why
    option: str = ""
    is_unit_price: bool = False
    unless: tuple[str, ...] = ()

    @property
    def room(self) -> str:
        """Name of the room."""
        return self.figures.name

    @property
    def code(self) -> str:
        """Code of the task or of the item."""
        return self.subject.code

    @property
    def task(self) -> Task | None:
        """The task, when the line is work."""
        return self.subject if isinstance(self.subject, Task) else None

    @property
    def item(self) -> Material | None:
        """The item, when the line is one."""
        return self.subject if isinstance(self.subject, Material) else None

    @property
    def unit(self) -> str:
        """The unit as it is shown."""
        return unit_of(self.subject).label

    @property
    def feet(self) -> Decimal:
        """The quantity in feet to its dimension, which is what consumption rules read."""
        return self.quantity / unit_of(self.subject).per_foot

    @property
    def phase(self) -> Phase:
        """The phase under which the line is shown."""
        subject = self.subject
        return subject.phase if isinstance(subject, Task) else ITEM_PHASES[subject.category]

    @property
    def description(self) -> str:
        """The client's words."""
        subject = self.subject
        return subject.client_text if isinstance(subject, Task) else subject.name


def unit_of(subject: Task | Material) -> Unit:
    """The unit in which a line is counted: the task's, or one by one for an item."""
    return subject.unit if isinstance(subject, Task) else UNITS["each"]
