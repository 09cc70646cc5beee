"""How programs are let in: the session of a page, or a bearer token."""

from collections.abc import Callable
from functools import wraps
from typing import Any, cast

from django.http import HttpRequest
from ninja.errors import HttpError
from ninja.security import HttpBearer, SessionAuth

from labour.firm.access import find_member_by_token, find_membership
from labour.firm.models import Membership, Role


class MemberBySession(SessionAuth):
    """Whoever is logged in, with the cross-site check for changes."""

    def authenticate(self, request: HttpRequest, key: str | None) -> Membership | None:
        """The membership behind the session cookie."""
        return _let_in(request, find_membership(request))


class MemberByToken(HttpBearer):
    """A program with a token of the firm."""

    def authenticate(self, request: HttpRequest, token: str) -> Membership | None:
        """The membership behind the token."""
        return _let_in(request, find_member_by_token(token))


def _let_in(request: HttpRequest, member: Membership | None) -> Membership | None:
    if member is None or member.firm.set_up_at is None:
        return None
    request.member = member  # type: ignore[attr-defined]
    request.firm = member.firm  # type: ignore[attr-defined]
    return member


MEMBER_AUTH = [MemberByToken(), MemberBySession()]


def only[RouteT: Callable[..., Any]](*roles: Role) -> Callable[[RouteT], RouteT]:
    """Let only members with one of the roles use the route."""

    def decorate(route: RouteT) -> RouteT:
        @wraps(route)
        def inner(request: Any, *args: Any, **kwargs: Any) -> Any:
            if request.member.role not in roles:
                raise HttpError(403, "Your role may not do this.")
            return route(request, *args, **kwargs)

        inner.roles = roles  # type: ignore[attr-defined]
        return cast(RouteT, inner)

    return decorate
