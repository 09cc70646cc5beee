"""What the change pages are given, made from stored rows and figures. Nothing is priced here."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from secrets import token_hex
from typing import Any

from labour.engine.refusal import Problem
from labour.firm.models import Firm, Units
from labour.plan.queries import list_templates
from labour.ratebook.models import TaskRow
from labour.ratebook.queries import list_tasks
from quoting.agree.models import Contract
from quoting.change.forms import OnPaperForm, PlainLineForm, WordsForm
from quoting.change.models import ChangeOrder, Reason
from quoting.change.queries import agreed_with, allowances, change_templates, creditable_lines
from quoting.engine.change_work import extents_of
from quoting.offer.forms import AddWorkForm

_USUAL: dict[str, tuple[str, ...]] = {
    Reason.ROT: ("subfloor", "rot"),
    Reason.MOULD: ("mould", "mold"),
    Reason.WIRING: ("wiring", "electric"),
    Reason.PIPE: ("pipe", "drain"),
    Reason.FRAMING: ("framing", "stud"),
}
"""Words by which the usual template of a reason is known: in its slug, the earlier word first."""

_WORDED = ("title", "reason", "finding", "pricing", "billed_apart")
_EXTENT = ("area", "length", "count")
_LINE = re.compile(r"lines\[\d+\]\.?")


def rooms_of(contract: Contract) -> list[str]:
    """Names of the rooms that were agreed."""
    names: list[str] = contract.acceptance.quote.figures["client_view"]["rooms"]
    return names


def usual_templates(firm: Firm) -> dict[str, str]:
    """Reason → slug of the firm's template that it usually takes; reasons without one are left out."""
    slugs = [template.slug for template in change_templates(firm)]
    found = {reason: _first_with(words, slugs) for reason, words in _USUAL.items()}
    return {str(reason): slug for reason, slug in found.items() if slug}


def template_choices(firm: Firm) -> list[dict[str, Any]]:
    """The firm's change templates with the reasons that they are usual for and the measures they ask for."""
    usual = usual_templates(firm)
    return [
        {
            "slug": template.slug,
            "name": template.name,
            "reasons": [reason for reason, slug in usual.items() if slug == template.slug],
            "measures": list(extents_of(template)),
        }
        for template in change_templates(firm)
    ]


def form_needs(contract: Contract) -> dict[str, Any]:
    """What the forms of a new change are told: rooms to choose from and the firm's units."""
    return {"rooms": rooms_of(contract), "metric": contract.firm.units == Units.METRIC}


def default_title(firm: Firm, reason: str, line: Mapping[str, str] | None) -> str:
    """What a change is called when nobody said: its template, or its reason; and where."""
    if line is None:
        return str(Reason(reason).label)
    names = {template.slug: template.name for template in change_templates(firm)}
    return f"{names.get(line['template'], Reason(reason).label)}, {line['room']}"[:120]


def change_view(change: ChangeOrder) -> dict[str, Any]:
    """The page of one change order; for a draft also what its forms offer."""
    figures = change.figures
    shown = {
        "change": change,
        "contract": change.contract,
        "job": change.contract.job,
        "client": change.contract.client,
        "view": figures["client_view"],
        "firm_view": figures["firm_view"],
        "photos": list(change.photos.defer("jpeg").order_by("id")),
        "approval": getattr(change, "approval", None),
        "on_paper_form": OnPaperForm(initial={"ticket": token_hex(16)}),
    }
    return shown | (_draft_view(change) if change.is_draft else {})


def _draft_view(change: ChangeOrder) -> dict[str, Any]:
    contract, firm = change.contract, change.firm
    days = change.days if figures_by_hand(change) else None
    initial = {name: getattr(change, name) for name in _WORDED}
    other_photos = contract.photos.defer("jpeg").exclude(pk__in=change.photos.values("pk"))
    rooms, tasks = rooms_of(contract), list_tasks(firm)
    return {
        "asked": asked_words(change, tasks),
        "words_form": WordsForm(initial=initial | {"days": days}),
        "work_form": AddWorkForm(rooms=rooms, tasks=tasks, prefix="work"),
        "plain_form": PlainLineForm(prefix="plain"),
        "templates": template_choices(firm),
        "rooms": rooms,
        "credits": creditable_lines(contract),
        "allowances": allowances(contract),
        "other_photos": list(other_photos.order_by("-id")[:40]),
    }


def figures_by_hand(change: ChangeOrder) -> bool:
    """Whether somebody set its days."""
    return bool(change.figures["days_by_hand"])


def asked_words(change: ChangeOrder, tasks: Iterable[TaskRow]) -> list[dict[str, Any]]:
    """What was asked for, line by line in words, with its place."""
    names = {task.code: task.name for task in tasks}
    names |= {template.slug: template.name for template in list_templates(change.firm)}
    credits = {key: line.description for key, line in agreed_with(change.contract).credits.items()}
    return [
        {"place": place, "words": _words(line, names, credits)} for place, line in enumerate(change.lines)
    ]


def _words(line: Mapping[str, Any], names: Mapping[str, str], credits: Mapping[str, str]) -> str:
    match line["kind"]:
        case "template":
            extent = ", ".join(f"{name} {line[name]}" for name in _EXTENT if line.get(name))
            return f"{line['room']}: {names.get(line['template'], line['template'])}, {extent}"
        case "work":
            return f"{line['room']}: {names.get(line['task'], line['task'])}, {line['quantity']}"
        case "credit":
            return f"Taken out: {credits.get(line['key'], line['key'])}"
        case "allowance":
            return f"Allowance settled: {line['description']} at {line['chosen']}"
        case _:
            return f"{line['description']}, {line['amount']}"


def plain_problems(problems: Iterable[Problem]) -> list[Problem]:
    """Problems of lines, named as their field is labelled on the page."""
    return [
        replace(problem, field=_LINE.sub("", problem.field).replace("_", " ") or problem.field)
        for problem in problems
    ]


def _first_with(words: Iterable[str], slugs: Iterable[str]) -> str:
    kept = list(slugs)
    return next((slug for word in words for slug in kept if word in slug), "")
