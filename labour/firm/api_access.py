"""How programs are let in: by a bearer token or the session of a page. `only` says who may use a route."""

from collections.abc import Callable
from typing import Any, cast

from django.http import HttpRequest
from django.utils import timezone
from ninja.errors import HttpError
from ninja.operation import Operation
from ninja.security import HttpBearer, SessionAuth
from ninja.utils import contribute_operation_callback

from labour.firm.access import EVERYONE, MemberRequest, find_member_by_token, find_membership
from labour.firm.models import Membership, Role

ROLES = "x-roles"
"""Where the API's description says who may use a route."""

_CROSS_SITE = "Send the page's cross-site token as X-CSRFToken, or use a bearer token."


class MemberByToken(HttpBearer):
    """A program with a token of the firm. Raise HttpError 403 when its role may not use the route."""

    def __init__(self, roles: tuple[Role, ...] = EVERYONE) -> None:
        super().__init__()
        self.roles = roles

    def authenticate(self, request: HttpRequest, token: str) -> Membership | None:
        """The membership behind the token."""
        return _let_in(request, find_member_by_token(token), self.roles)


class MemberBySession(SessionAuth):
    """Whoever is logged in, with the cross-site check for changes. Raise HttpError 403 as above."""

    def __init__(self, roles: tuple[Role, ...] = EVERYONE) -> None:
        super().__init__()
        self.roles = roles

    def __call__(self, request: HttpRequest) -> Any:
        """The membership; a change must carry the cross-site token of the page it comes from."""
        if not request.user.is_authenticated:
            return None
        try:
            return super().__call__(request)
        except HttpError as error:
            raise HttpError(403, str(error).replace("CSRF check Failed", _CROSS_SITE)) from None

    def authenticate(self, request: HttpRequest, key: str | None) -> Membership | None:
        """The membership behind the session cookie."""
        return _let_in(request, find_membership(request), self.roles)


def _let_in(request: HttpRequest, member: Membership | None, roles: tuple[Role, ...]) -> Membership | None:
    if member is None or member.firm.set_up_at is None:
        return None
    if member.role not in roles:
        raise HttpError(403, "Your role may not do this.")
    request.member = member  # type: ignore[attr-defined]
    request.firm = member.firm  # type: ignore[attr-defined]
    return member


MEMBER_AUTH = [MemberByToken(), MemberBySession()]


def only[RouteT: Callable[..., Any]](*roles: Role) -> Callable[[RouteT], RouteT]:
    """Let only members with one of the roles use the route: asked before anything sent is read."""

    def guard(operation: Operation) -> None:
        operation.auth_param = [MemberByToken(roles), MemberBySession(roles)]
        operation.auth_callbacks = operation.auth_param
        operation.openapi_extra = (operation.openapi_extra or {}) | {ROLES: [role.value for role in roles]}

    def decorate(route: RouteT) -> RouteT:
        contribute_operation_callback(route, guard)
        return route

    return decorate


def at_by(request: HttpRequest) -> dict[str, Any]:
    """The moment and the person of a change, as services take them."""
    return {"at": timezone.now(), "by": cast(MemberRequest, request).member.user}
