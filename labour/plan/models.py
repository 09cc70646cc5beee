"""The firm's scope templates."""

from django.db import models

from labour.engine.scope import LineKind, ScopeLine, ScopeTemplate
from labour.firm.models import FirmRow


class TemplateRow(FirmRow):
    """A scope template: which work and items a room needs."""

    slug = models.SlugField(max_length=60)
    name = models.CharField(max_length=120)
    summary = models.CharField(max_length=300)
    exclusions = models.JSONField(default=list, blank=True)
    is_active = models.BooleanField(default=True)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["firm", "slug"], name="template_slug_once_a_firm")]

    def __str__(self) -> str:
        return self.name

    def to_engine(self) -> ScopeTemplate:
        """The template with its lines in order, as the engine's plain value. Prefetch `lines`."""
        return ScopeTemplate(
            slug=self.slug,
            name=self.name,
            summary=self.summary,
            lines=tuple(line.to_engine() for line in self.lines.all()),
            exclusions=tuple(self.exclusions),
        )


class TemplateLineRow(models.Model):
    """One line of a template. code: of a task, or of a catalogue item when kind is item.

    unless: name of the option in whose place the line stands; it goes when that option is taken.
    """

    template = models.ForeignKey(TemplateRow, on_delete=models.CASCADE, related_name="lines")
    position = models.PositiveSmallIntegerField()
    kind = models.CharField(max_length=12, choices=[(k.value, k.value) for k in LineKind])
    code = models.SlugField(max_length=40)
    quantity = models.CharField(max_length=300)
    when = models.CharField(max_length=300, blank=True)
    option = models.CharField(max_length=120, blank=True)
    unless = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["position"]
        constraints = [
            models.UniqueConstraint(fields=["template", "position"], name="template_line_position_once"),
        ]

    def __str__(self) -> str:
        return f"{self.template} line {self.position}: {self.code}"

    def to_engine(self) -> ScopeLine:
        """The line as the engine's plain value."""
        return ScopeLine(
            key=f"{self.position:03d}-{self.code}",
            kind=LineKind(self.kind),
            code=self.code,
            quantity=self.quantity,
            when=self.when,
            option=self.option,
            unless=self.unless,
        )
