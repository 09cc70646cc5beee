"""Routes of log-ins, roles and keys for programs. Owners only."""

from typing import Any

from django.urls import reverse
from ninja import Router, Status

from labour.firm import people as services
from labour.firm.access import OWNER, MemberRequest, get_of
from labour.firm.api_access import at_by, only
from labour.firm.models import ApiToken, Membership, Worker
from labour.firm.queries import list_members, list_tokens
from labour.firm.schemas import ApiKeyIn, ApiKeyOut, NewApiKeyOut, PersonIn, PersonOut, RoleIn, WorkerLogInIn

router = Router(tags=["people"])


@router.get("/people", response=list[PersonOut])
@only(*OWNER)
def get_people(request: MemberRequest) -> Any:
    """Who can log in, by e-mail."""
    return [_person(member) for member in list_members(request.firm)]


@router.post("/people", response={201: PersonOut})
@only(*OWNER)
def invite_person(request: MemberRequest, body: PersonIn) -> Any:
    """Give someone a log-in of this firm, and mail them where to choose a password."""
    page = request.build_absolute_uri(reverse("account_reset_password"))
    asked = {"firm": request.firm, "password_page": page, **at_by(request)}
    return Status(201, _person(services.invite_member(email=body.email, role=body.role, **asked)))


@router.put("/people/{int:person_id}", response=PersonOut)
@only(*OWNER)
def change_role(request: MemberRequest, person_id: int, body: RoleIn) -> Any:
    """Change what a person may see and do. The last owner stays owner."""
    member = get_of(Membership, request.firm, "user", pk=person_id)
    return _person(services.change_role(member=member, role=body.role, **at_by(request)))


@router.delete("/people/{int:person_id}", response={204: None})
@only(*OWNER)
def remove_person(request: MemberRequest, person_id: int) -> Any:
    """End a log-in's place in the firm, with its keys. What the person did stays on record."""
    member = get_of(Membership, request.firm, "user", pk=person_id)
    services.remove_member(member=member, **at_by(request))
    return Status(204, None)


@router.put("/workers/{int:worker_id}/log-in", response={204: None})
@only(*OWNER)
def tie_worker(request: MemberRequest, worker_id: int, body: WorkerLogInIn) -> Any:
    """Say with which log-in a worker writes down their own hours; null: with none."""
    row = get_of(Worker, request.firm, pk=worker_id)
    services.tie_worker(worker=row, member_id=body.person, **at_by(request))
    return Status(204, None)


@router.get("/keys", response=list[ApiKeyOut])
@only(*OWNER)
def get_keys(request: MemberRequest) -> Any:
    """The firm's keys for programs, newest first. The secret itself is not kept."""
    return [
        {"id": token.pk, "name": token.name, "created_at": token.created_at}
        | {"person": token.membership.user.email}
        for token in list_tokens(request.firm)
    ]


@router.post("/keys", response={201: NewApiKeyOut})
@only(*OWNER)
def make_key(request: MemberRequest, body: ApiKeyIn) -> Any:
    """A new key that may do what you may. It is shown in this answer and never again."""
    at = at_by(request)["at"]
    token = services.make_token(membership=request.member, name=body.name, at=at)
    return Status(201, {"name": body.name.strip(), "token": token})


@router.delete("/keys/{int:key_id}", response={204: None})
@only(*OWNER)
def revoke_key(request: MemberRequest, key_id: int) -> Any:
    """Make a key useless at once."""
    services.revoke_token(token=get_of(ApiToken, request.firm, pk=key_id), **at_by(request))
    return Status(204, None)


def _person(member: Membership) -> dict[str, Any]:
    return {"id": member.pk, "email": member.user.email, "role": member.role}
