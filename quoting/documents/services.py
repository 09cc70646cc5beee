"""Numbers and issued papers. Called inside the transaction of the step that issues; that step audits."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from django.core.serializers.json import DjangoJSONEncoder
from django.db import transaction

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm
from quoting.documents.models import IssuedPaper, NumberSeries
from quoting.documents.paper import render_paper
from quoting.documents.rendering import Attached, fingerprint
from quoting.documents.sealing import seal


class CannotIssuePaper(Refusal):
    """The paper was not kept."""


@dataclass(frozen=True, slots=True)
class Draft:
    """A paper to be issued. kind, number: what it is called; together once a firm.

    context: plain values, as JSON holds them; dates as ISO text. attachments: files that travel inside.
    pictures: JPEGs by name, which the template shows as "picture:<name>"; they are not kept beside the paper.
    """

    kind: str
    number: str
    template: str
    context: Mapping[str, Any]
    attachments: tuple[Attached, ...] = ()
    pictures: Mapping[str, bytes] = field(default_factory=dict)


@transaction.atomic
def take_number(*, firm: Firm, series: str, prefix: str = "", digits: int = 4) -> str:
    """The next number of a firm's series, such as "Q-0012". No number is skipped or given twice.

    The series stays locked until the caller's transaction ends; if that is rolled back, so is the number.
    """
    NumberSeries.objects.get_or_create(firm=firm, code=series)
    row = NumberSeries.objects.select_for_update().get(firm=firm, code=series)
    number = row.next_number
    row.next_number = number + 1
    row.save(update_fields=["next_number"])
    return f"{prefix}{number:0{digits}d}"


@transaction.atomic
def issue_paper(*, firm: Firm, draft: Draft, at: datetime) -> IssuedPaper:
    """Make a paper and keep it byte for byte, with what it was made from and what made it.

    A number is issued once a kind. Where the firm has a seal, it is set.
    """
    if IssuedPaper.objects.of(firm).filter(kind=draft.kind, number=draft.number).exists():
        raise CannotIssuePaper(Problem("number", f"{draft.kind} {draft.number} has been issued already"))
    context = as_stored(draft.context)
    plain = render_paper(
        draft.template,
        context | {"at": at},
        paper=firm.paper,
        attachments=draft.attachments,
        pictures=draft.pictures,
    )
    sealed = seal(firm, plain)
    return IssuedPaper.objects.create(
        firm=firm,
        kind=draft.kind,
        number=draft.number,
        pdf=sealed,
        sha256=hashlib.sha256(sealed).hexdigest(),
        unsealed_length=None if sealed == plain else len(plain),
        fingerprint=fingerprint(),
        template=draft.template,
        context=context,
        attached=[
            {"name": file.name, "sha256": hashlib.sha256(file.content).hexdigest()}
            for file in draft.attachments
        ],
        issued_at=at,
    )


def as_stored(context: Mapping[str, Any]) -> dict[str, Any]:
    """The context as it is kept and shown: what JSON makes of it."""
    stored: dict[str, Any] = json.loads(json.dumps(context, cls=DjangoJSONEncoder))
    return stored
