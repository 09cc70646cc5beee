"""Who may see and do what. Every page and API route goes through here."""

from collections.abc import Callable
from functools import wraps
from typing import Any, cast

from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponseBase
from django.shortcuts import redirect

from labour.firm.models import ApiToken, Firm, FirmRow, Membership, Role
from labour.firm.queries import digest_of

EVERYONE = (Role.OWNER, Role.OFFICE, Role.CREW)
OFFICE = (Role.OWNER, Role.OFFICE)
OWNER = (Role.OWNER,)


class MemberRequest(HttpRequest):
    """A request of someone who belongs to a firm."""

    member: Membership
    firm: Firm


type Page = Callable[..., HttpResponseBase]


def find_membership(request: HttpRequest) -> Membership | None:
    """The membership of whoever is logged in."""
    if not request.user.is_authenticated:
        return None
    return Membership.objects.select_related("firm", "user").filter(user=request.user).first()


def page(*roles: Role, before_set_up: bool = False) -> Callable[[Page], Page]:
    """Let only members with one of the roles in; send a firm that is not set up yet to its set-up."""

    def decorate(view: Page) -> Page:
        @wraps(view)
        @login_required
        def inner(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
            member = find_membership(request)
            if member is None or (member.firm.set_up_at is None and not before_set_up):
                return redirect("set-up")
            if member.role not in roles:
                raise PermissionDenied("Your role may not see this page.")
            request.member = member  # type: ignore[attr-defined]
            request.firm = member.firm  # type: ignore[attr-defined]
            return view(cast(MemberRequest, request), *args, **kwargs)

        inner.roles = roles  # type: ignore[attr-defined]
        return inner

    return decorate


def get_of[RowT: FirmRow](model: type[RowT], firm: Firm, *related: str, **lookup: Any) -> RowT:
    """The firm's row with its related rows, or 404: another firm's data does not exist for you."""
    rows = model._default_manager.filter(firm=firm, **lookup)
    row = (rows.select_related(*related) if related else rows).first()
    if row is None:
        raise Http404
    return cast(RowT, row)


def find_member_by_token(token: str) -> Membership | None:
    """The membership that an API token stands for."""
    rows = ApiToken.objects.select_related("membership__firm", "membership__user")
    row = rows.filter(digest=digest_of(token)).first()
    return row.membership if row else None
