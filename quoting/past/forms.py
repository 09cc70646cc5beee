"""What people send about past tables: a file or pasted text, and how its columns are meant."""

from typing import Any

from django import forms
from django.http import QueryDict

from labour.engine.past.values import Column, DayOrder
from labour.engine.refusal import Problem
from quoting.past.files import BadTable, Table, read_table


class BringForm(forms.Form):
    """A table to bring in."""

    name = forms.CharField(label="What is it?", max_length=120, help_text="For example: our jobs of 2025.")
    file = forms.FileField(label="CSV file or .xlsx spreadsheet", required=False)
    text = forms.CharField(
        label="Or paste the table",
        required=False,
        max_length=2_000_000,
        widget=forms.Textarea(attrs={"rows": 8}),
        help_text="With its row of headings; columns kept apart by tab, comma or semicolon.",
    )

    def table(self) -> Table:
        """The table that was sent. Raise BadTable."""
        file, text = self.cleaned_data["file"], self.cleaned_data["text"]
        if file is None and not text.strip():
            raise BadTable(Problem("file", "Choose a file, or paste the table."))
        return read_table(file.read() if file is not None else text.encode())


def matching_from(post: QueryDict) -> dict[str, Any]:
    """Columns, tasks and readings as the matching form sends them; what is left empty is not matched."""
    columns = {
        column.value: int(place)
        for column in Column
        if (place := post.get(f"column-{column.value}", "")).isdecimal() and len(place) < 4
    }
    words, codes = post.getlist("task-words"), post.getlist("task-code")
    return {
        "columns": columns,
        "tasks": {word: code for word, code in zip(words, codes, strict=False) if code},
        "day_order": post.get("day_order", DayOrder.MONTH_FIRST.value),
        "own_units": post.get("own_units") == "on",
    }
