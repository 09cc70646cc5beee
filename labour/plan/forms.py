"""What people type about templates: the lines as rows of a table, and the name of a copy.

Comes in: posted rows. Goes out: scope lines for the services; what a service refuses is set beside its row.
"""

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING, cast

from django import forms

from labour.engine.refusal import Refusal
from labour.engine.scope import LineKind, ScopeLine

_KINDS = [(LineKind.TASK, "Work"), (LineKind.ITEM, "Item"), (LineKind.UNIT_PRICE, "Unit price")]
_PLACE = re.compile(r" line (\d+) (code|quantity|when|option|unless)$")


def _text(label: str, longest: int, *, required: bool = True) -> forms.CharField:
    errors = {"required": f"Write the {label.lower()}, or tick Remove."}
    return forms.CharField(label=label, max_length=longest, required=required, error_messages=errors)


class LineForm(forms.Form):
    """One line of a template."""

    kind = forms.ChoiceField(
        choices=_KINDS, initial=LineKind.TASK, widget=forms.Select(attrs={"aria-label": "Kind"})
    )
    code = forms.SlugField(max_length=40, error_messages={"required": "Write the code, or tick Remove."})
    quantity = _text("Quantity", 300)
    when = _text("When", 300, required=False)
    option = _text("Option", 120, required=False)
    unless = _text("Unless", 120, required=False)

    def to_line(self) -> ScopeLine:
        """The row as a scope line."""
        given = self.cleaned_data
        texts = {name: given[name] for name in ("code", "quantity", "when", "option", "unless")}
        return ScopeLine("", LineKind(given["kind"]), **texts)


if TYPE_CHECKING:
    _Rows = forms.BaseFormSet[LineForm]
else:
    _Rows = forms.BaseFormSet


class LineRows(_Rows):
    """The lines of a template as a table, with empty rows at its end for new ones."""

    def add_fields(self, form: LineForm, index: int | None) -> None:
        """Add the box that removes a row, named for those who cannot see the table."""
        super().add_fields(form, index)
        form.fields["DELETE"].widget.attrs["aria-label"] = f"Remove line {(index or 0) + 1}"

    def get_kept(self) -> list[LineForm]:
        """The rows that are filled in and not to be removed."""
        return [form for form in self.forms if form.has_changed() and form not in self.deleted_forms]

    def to_lines(self) -> list[ScopeLine]:
        """The rows as scope lines, in order."""
        return [form.to_line() for form in self.get_kept()]

    def attach(self, refusal: Refusal) -> list[str]:
        """Set each problem beside the row it is about; give back those about the whole."""
        kept, whole = self.get_kept(), []
        for problem in refusal.problems:
            place = _PLACE.search(problem.field)
            if place and int(place[1]) <= len(kept):
                kept[int(place[1]) - 1].add_error(place[2], problem.message)
            else:
                whole.append(str(problem))
        return whole


LineTable = cast(type[LineRows], forms.formset_factory(LineForm, formset=LineRows, extra=3, can_delete=True))


def initial_rows(lines: Iterable[ScopeLine]) -> list[dict[str, str]]:
    """The lines as the table shows them at first."""
    names = ("kind", "code", "quantity", "when", "option", "unless")
    return [{name: str(getattr(line, name)) for name in names} for line in lines]


class CopyForm(forms.Form):
    """The name of a copy."""

    new_name = forms.CharField(label="Name of the copy", max_length=120)
    new_slug = forms.SlugField(
        label="Short name",
        max_length=60,
        help_text="Small letters, digits and hyphens, as in small-hall-bath. It cannot be changed later.",
    )
