"""Cast of the catalogue's tests: a bag of mortar, the rule by which a floor uses it, firms."""

from decimal import Decimal

from labour.engine.vocabulary import Phase
from labour.firm.models import Firm
from labour.ratebook.models import TaskRow
from quoting.catalogue.services import load_catalogue
from quoting.engine.materials.values import ConsumptionRule, Material, RuleKind
from quoting.engine.pricing.values import Category
from tests.makers import AT, make_firm

TODAY = AT.date()
BAG = Material(
    "thinset", "Thin-set mortar", Category.MATERIAL, "lb", "50 lb bag", Decimal(50), Decimal("24.80"), TODAY
)
BED = ConsumptionRule(
    "tile-floor",
    "thinset",
    RuleKind.BED,
    {name: Decimal("0.25") for name in ("notch_width", "notch_depth", "land")} | {"density": Decimal(105)},
    waste=Decimal(10),
    when="floor_tile == 'medium'",
    source="geometry",
)


def make_tiler_firm() -> Firm:
    """A firm whose rate book has one task: tile a floor."""
    firm = make_firm()
    TaskRow.objects.create(
        firm=firm, code="tile-floor", name="Tile floor", client_text="Tile the floor", phase=Phase.TILE,
        unit="sq_ft", rate=10, rate_low=7, rate_high=13,
    )  # fmt: skip
    return firm


def make_supplied_firm() -> Firm:
    """The same firm with the bag and the rule in its catalogue."""
    firm = make_tiler_firm()
    load_catalogue(firm=firm, materials=[BAG], rules=[BED])
    return firm
