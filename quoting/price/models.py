"""How the firm makes its prices."""

from django.db import models
from django.db.models import Q

from labour.firm.models import FirmRow, User
from labour.work.models import Job
from quoting.engine.pricing.values import Category, Method

_CATEGORIES = [(c.value, c.value.capitalize()) for c in Category]


class PriceSettings(FirmRow):
    """What a firm's quotes and bills say and cost beyond the categories.

    *_cost: per hour, bought-in licensed trade; empty when the firm holds the licence itself. crew_size,
    day_hours: turn labour-hours into working days. deposit_cap_*: the most that is asked as a deposit, by the
    firm's reading of its local law; empty for no cap. payment_days: from an invoice to its due day.
    wanted_margin: percent of the price without tax that a job should leave after all its costs.
    wanted_chance: how often, in percent of jobs, it should. material_spread: how far material prices move
    until they are paid, percent (sd). spare_tiles: percent bought on top of the tiles that layouts need.
    """

    plumber_cost = models.DecimalField(max_digits=8, decimal_places=2, null=True, blank=True)
    electrician_cost = models.DecimalField(max_digits=8, decimal_places=2, null=True, blank=True)
    valid_days = models.PositiveSmallIntegerField(default=30)
    spare_tiles = models.DecimalField(max_digits=4, decimal_places=2, default=5)
    show_line_amounts = models.BooleanField(default=False)
    terms = models.TextField(max_length=6000, blank=True)
    milestones = models.JSONField(default=list)
    crew_size = models.PositiveSmallIntegerField(default=2)
    day_hours = models.DecimalField(max_digits=4, decimal_places=2, default=8)
    deposit_cap_percent = models.DecimalField(max_digits=5, decimal_places=2, null=True, blank=True)
    deposit_cap_amount = models.DecimalField(max_digits=10, decimal_places=2, null=True, blank=True)
    payment_days = models.PositiveSmallIntegerField(default=14)
    retainage_percent = models.DecimalField(max_digits=5, decimal_places=2, default=0)
    wanted_margin = models.DecimalField(max_digits=5, decimal_places=2, default=15)
    wanted_chance = models.DecimalField(max_digits=5, decimal_places=2, default=80)
    material_spread = models.DecimalField(max_digits=5, decimal_places=2, default=5)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["firm"], name="price_settings_once_a_firm"),
            models.CheckConstraint(
                condition=Q(crew_size__gte=1, day_hours__gt=0, day_hours__lte=24), name="working_day_sane"
            ),
            models.CheckConstraint(
                condition=Q(spare_tiles__gte=0, spare_tiles__lte=50), name="spare_tiles_sane"
            ),
            models.CheckConstraint(
                condition=Q(retainage_percent__gte=0, retainage_percent__lt=100), name="retainage_sane"
            ),
            models.CheckConstraint(
                condition=Q(wanted_margin__gte=0, wanted_margin__lt=100)
                & Q(wanted_chance__gte=50, wanted_chance__lt=100)
                & Q(material_spread__gte=0, material_spread__lte=50),
                name="wanted_safety_sane",
            ),
        ]

    def __str__(self) -> str:
        return f"price settings of {self.firm}"


class CategoryRuleRow(FirmRow):
    """Overhead, contingency, markup or margin, and purchase tax of one category; all percent."""

    category = models.CharField(max_length=12, choices=_CATEGORIES)
    overhead = models.DecimalField(max_digits=6, decimal_places=2, default=0)
    contingency = models.DecimalField(max_digits=6, decimal_places=2, default=0)
    method = models.CharField(max_length=8, choices=[(m.value, m.value.capitalize()) for m in Method])
    percent = models.DecimalField(max_digits=6, decimal_places=2)
    purchase_tax = models.DecimalField(max_digits=6, decimal_places=3, default=0)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["firm", "category"], name="category_rule_once"),
            models.CheckConstraint(
                condition=Q(overhead__gte=0, contingency__gte=0, percent__gte=0, purchase_tax__gte=0),
                name="category_rule_not_negative",
            ),
            models.CheckConstraint(
                condition=~Q(method=Method.MARGIN) | Q(percent__lt=100), name="margin_below_hundred"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.category}: {self.percent} % {self.method}"


class SalesTaxRow(FirmRow):
    """A tax on the client's price. categories: list of category codes. rate: percent."""

    name = models.CharField(max_length=60)
    rate = models.DecimalField(max_digits=7, decimal_places=4)
    categories = models.JSONField(default=list)
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["firm", "name"], name="sales_tax_name_once"),
            models.CheckConstraint(condition=Q(rate__gte=0, rate__lt=100), name="sales_tax_rate_sane"),
        ]

    def __str__(self) -> str:
        return f"{self.name} {self.rate} %"


class ConcealedFinding(FirmRow):
    """Whether something was found behind a surface that a job opened, and what mending it cost.

    kind: code of a `ConcealedKind` of the engine. was_found: False: opened, and it was sound. old_house: when
    the house was known to be old or not. cost: to the firm, without the price of the change order.
    """

    job = models.ForeignKey(Job, on_delete=models.CASCADE, related_name="findings")
    kind = models.SlugField(max_length=40)
    was_found = models.BooleanField()
    old_house = models.BooleanField(null=True, blank=True)
    cost = models.DecimalField(max_digits=12, decimal_places=2, null=True, blank=True)
    at = models.DateTimeField()
    by = models.ForeignKey(User, on_delete=models.PROTECT, null=True, related_name="+")

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["job", "kind"], name="finding_once_a_job"),
            models.CheckConstraint(condition=Q(cost__isnull=True) | Q(cost__gte=0), name="finding_cost_sane"),
        ]

    def __str__(self) -> str:
        return f"{self.kind}: {'found' if self.was_found else 'sound'}"
