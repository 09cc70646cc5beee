"""The firm's materials and paid items with their prices, and the rules by which tasks use them."""

from decimal import Decimal

from django.db import models
from django.db.models import Q

from labour.firm.models import FirmRow
from labour.ratebook.models import TaskRow
from quoting.engine.materials.values import ConsumptionRule, Material, RuleKind
from quoting.engine.pricing.values import Category

_BOUGHT = [c for c in Category if c is not Category.LABOUR]


class MaterialRow(FirmRow):
    """Something that is bought, in packs. price: of one pack; empty while it is not known."""

    code = models.SlugField(max_length=40)
    name = models.CharField(max_length=120)
    category = models.CharField(max_length=12, choices=[(c.value, c.value.capitalize()) for c in _BOUGHT])
    content_unit = models.CharField(max_length=12)
    pack_name = models.CharField(max_length=40)
    pack_size = models.DecimalField(max_digits=10, decimal_places=3)
    price = models.DecimalField(max_digits=10, decimal_places=2, null=True, blank=True)
    priced_on = models.DateField(null=True, blank=True)
    supplier = models.CharField(max_length=60, blank=True)
    is_active = models.BooleanField(default=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["firm", "code"], name="material_code_once_a_firm"),
            models.CheckConstraint(condition=Q(pack_size__gt=0), name="material_pack_not_empty"),
            models.CheckConstraint(
                condition=Q(price__isnull=True) | Q(price__gte=0), name="material_price_not_negative"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.code}: {self.name}"

    def to_engine(self) -> Material:
        """The same material as the engine's plain value."""
        return Material(
            code=self.code,
            name=self.name,
            category=Category(self.category),
            content_unit=self.content_unit,
            pack_name=self.pack_name,
            pack_size=self.pack_size,
            price=self.price,
            priced_on=self.priced_on,
            supplier=self.supplier,
        )


class ConsumptionRow(FirmRow):
    """How a task uses a material."""

    task = models.ForeignKey(TaskRow, on_delete=models.CASCADE, related_name="+")
    material = models.ForeignKey(MaterialRow, on_delete=models.PROTECT, related_name="uses")
    kind = models.CharField(max_length=12, choices=[(k.value, k.value) for k in RuleKind])
    values = models.JSONField(default=dict)
    waste_percent = models.DecimalField(max_digits=5, decimal_places=2, default=0)
    when = models.CharField(max_length=300, blank=True)
    source = models.CharField(max_length=240)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(waste_percent__gte=0), name="consumption_waste_not_negative"),
        ]

    def __str__(self) -> str:
        return f"{self.task.code} uses {self.material.code}"

    def to_engine(self) -> ConsumptionRule:
        """The same rule as the engine's plain value. Select `task` and `material` with it."""
        return ConsumptionRule(
            task_code=self.task.code,
            material_code=self.material.code,
            kind=RuleKind(self.kind),
            values={name: Decimal(value) for name, value in self.values.items()},
            waste=self.waste_percent,
            when=self.when,
            source=self.source,
        )
