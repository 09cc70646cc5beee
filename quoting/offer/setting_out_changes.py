"""Changes to how a draft is set out, as the page posts them: a form comes in; one service is called."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.http import QueryDict

from labour.engine.refusal import Problem
from quoting.documents.filters import money
from quoting.engine.measure.room_format import DEPTH, SURFACE_CHOICE
from quoting.measure.form_paths import document_from
from quoting.offer.floor_depths import DepthsKept, keep_floor_depths
from quoting.offer.setting_out import wanted_from
from quoting.offer.surface_choices import (
    STEPS,
    CannotLaySurface,
    Relaid,
    Where,
    drop_surface_choice,
    keep_surface_choice,
    lock_surface,
    nudge_surface,
    take_wish,
    unlock_surface,
)

_MOST_POINTS = 400


@dataclass(frozen=True, slots=True)
class Tried:
    """What was posted and refused, to be shown again. typed: of a surface; points: of a floor.

    problems: by field; those of no field on the page stand above it.
    """

    room: str = ""
    key: str = ""
    typed: Mapping[str, Any] | None = None
    points: Sequence[Mapping[str, str]] | None = None
    problems: Sequence[Problem] = ()
    spare: int = 0


def where_of(post: QueryDict) -> Where:
    """The surfaces that a form is about."""
    return Where(post.get("room", ""), tuple(dict.fromkeys(post.getlist("surface"))))


def choice_typed(post: QueryDict) -> dict[str, Any]:
    """What was typed of a choice; the fields' names begin with the surface's own id."""
    values = {name.rpartition(".")[2]: post.getlist(name) for name in post if "." in name}
    return document_from(values, SURFACE_CHOICE)


def relay(post: QueryDict, asked: Mapping[str, Any]) -> Relaid:
    """Do to surfaces what the pressed button says. asked: whose, which quote, when, by whom."""
    where, do = where_of(post), post.get("do", "")
    if do == "keep":
        return keep_surface_choice(where=where, asked=choice_typed(post), **asked)
    if do == "usual":
        return drop_surface_choice(where=where, **asked)
    if do == "unlock":
        return unlock_surface(where=where, **asked)
    if do == "take":
        return take_wish(where=where, wish=post.get("wish", ""), **asked)
    seen = wanted_from({"wish": post.get("seen", "")})
    if do == "lock":
        return lock_surface(where=where, seen=seen, **asked)
    if do in STEPS:
        step = "" if post.get("half") else post.get("step", "").strip()
        if not (step or post.get("half")):
            raise CannotLaySurface(Problem("step", "Write how far, or tick half a joint."))
        return nudge_surface(where=where, to=(do, step), seen=seen, **asked)
    raise CannotLaySurface(Problem("do", "Choose what is to be done."))


def points_typed(post: QueryDict) -> list[dict[str, str]]:
    """Rows of the depths form that hold anything; the fields' names begin with the row's own id."""
    rows: dict[str, dict[str, str]] = {}
    for name in post:
        row, dot, field = name.rpartition(".")
        if dot and field in DEPTH.fields and (text := post.get(name, "").strip()):
            rows.setdefault(row, {})[field] = text
    return list(rows.values())[: _MOST_POINTS + 1]


def keep_depths(post: QueryDict, asked: Mapping[str, Any]) -> DepthsKept:
    """Keep the points that were typed."""
    return keep_floor_depths(room=post.get("room", ""), points=points_typed(post), **asked)


def words_of(relaid: Relaid) -> str:
    """What a change did to tiles and price, for the one who made it."""
    return f"{relaid.name}: {_tiles_of(relaid)}. {_price_of(relaid)}"


def _tiles_of(relaid: Relaid) -> str:
    if relaid.after is None:
        return "the layout that was kept is gone"
    tiles = f"{relaid.after} tile{'s' * (relaid.after != 1)}"
    if relaid.before is None:
        return tiles
    same = relaid.before == relaid.after
    return f"{tiles}, as many as before" if same else f"{tiles} instead of {relaid.before}"


def _price_of(relaid: Relaid) -> str:
    total, currency = relaid.quote.total, relaid.quote.firm.currency
    if total == relaid.total_before:
        return f"The quote comes to {money(total, currency)} as before."
    return f"The quote comes to {money(total, currency)} instead of {money(relaid.total_before, currency)}."
