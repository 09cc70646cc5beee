"""Log-ins, roles and API keys: the only way to change them.

Comes in: rows, what was typed, the moment and the person. Goes out: the saved row or the new key, and an
audit line for every change. A refusal leaves everything as it was.
"""

import secrets
from datetime import datetime
from functools import partial

from django.core.mail import send_mail
from django.db import IntegrityError, transaction
from django.template.loader import render_to_string

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import ApiToken, Firm, Membership, Role, User, Worker
from labour.firm.queries import REMOVED, count_owners, digest_of, find_former_member
from labour.firm.services import email_problems, text_problems, write_audit

TOKEN_BYTES = 32


class CannotInviteMember(Refusal):
    """Nobody was invited."""


class CannotChangeMember(Refusal):
    """The log-in keeps its role."""


class CannotTieWorker(Refusal):
    """The worker keeps the log-in that they had."""


class CannotMakeToken(Refusal):
    """No key was made."""


@transaction.atomic
def invite_member(
    *, firm: Firm, email: str, role: str, password_page: str, by: User, at: datetime
) -> Membership:
    """Give someone a log-in of this firm and mail them where to choose a password.

    password_page: the whole address of the page that sends password links.
    """
    email = email.strip().lower()
    problems = email_problems(email) + text_problems(User, {"email": email}) + _role_problems(role)
    if problems:
        raise CannotInviteMember(*problems)
    user = find_former_member(firm, email) or _create_user(email)
    member = Membership.objects.create(firm=firm, user=user, role=role)
    write_audit(firm=firm, by=by, at=at, action="invite member", subject=email, detail={"role": role})
    given = {"firm": firm, "email": email, "password_page": password_page}
    body = render_to_string("firm/invitation.txt", given)
    subject = f"Your log-in at {' '.join(firm.name.split())}"
    transaction.on_commit(partial(send_mail, subject, body, None, [email]), robust=True)
    return member


@transaction.atomic
def change_role(*, member: Membership, role: str, by: User, at: datetime) -> Membership:
    """Change what a person may see and do. The last owner stays owner."""
    kept = _lock(member)
    if problems := _role_problems(role):
        raise CannotChangeMember(*problems)
    if kept.role == Role.OWNER and role != Role.OWNER:
        _refuse_last_owner(kept, "Make someone else owner first")
    detail = {"from": kept.role, "to": role}
    kept.role = Role(role)
    kept.save(update_fields=["role"])
    write_audit(firm=kept.firm, by=by, at=at, action="change role", subject=kept.user.email, detail=detail)
    return kept


@transaction.atomic
def remove_member(*, member: Membership, by: User, at: datetime) -> None:
    """End a log-in's place in the firm, with its API keys. What the person did stays on record."""
    kept = _lock(member)
    if kept.role == Role.OWNER:
        _refuse_last_owner(kept, "Make someone else owner before removing this log-in")
    write_audit(firm=kept.firm, by=by, at=at, action=REMOVED, subject=kept.user.email)
    kept.delete()


@transaction.atomic
def tie_worker(*, worker: Worker, member_id: int | None, by: User, at: datetime) -> Worker:
    """Say with which log-in a worker writes down their own hours; None: with none."""
    firm = Firm.objects.select_for_update().get(pk=worker.firm_id)
    member = None if member_id is None else Membership.objects.of(firm).filter(pk=member_id).first()
    if member_id is not None and member is None:
        raise CannotTieWorker(Problem("member", "Choose a log-in of the firm, or none."))
    other = Worker.objects.of(firm).exclude(pk=worker.pk).filter(member=member).first() if member else None
    if other:
        raise CannotTieWorker(Problem("member", f"This log-in is {other.name}'s; one log-in, one worker."))
    worker.member = member
    worker.save(update_fields=["member"])
    detail = {"log-in": member.user.email if member else ""}
    write_audit(firm=firm, by=by, at=at, action="tie worker to log-in", subject=worker.name, detail=detail)
    return worker


@transaction.atomic
def make_token(*, membership: Membership, name: str, at: datetime) -> str:
    """A new API key that may do what this person may. It is returned once; only its digest is kept."""
    name = name.strip()
    problems = text_problems(ApiToken, {"name": name})
    if not name:
        problems.append(Problem("name", "Write what the key is for, so that it can be told apart later."))
    if problems:
        raise CannotMakeToken(*problems)
    token = secrets.token_urlsafe(TOKEN_BYTES)
    firm = membership.firm
    ApiToken.objects.create(
        firm=firm, membership=membership, name=name, digest=digest_of(token), created_at=at
    )
    write_audit(firm=firm, by=membership.user, at=at, action="make API key", subject=name)
    return token


@transaction.atomic
def revoke_token(*, token: ApiToken, by: User, at: datetime) -> None:
    """Make a key useless at once."""
    write_audit(firm=token.firm, by=by, at=at, action="revoke API key", subject=token.name)
    token.delete()


def _create_user(email: str) -> User:
    try:
        with transaction.atomic():
            return User.objects.create_user(email)
    except IntegrityError as error:
        words = "This address already has a log-in. One log-in serves one firm; use another address."
        raise CannotInviteMember(Problem("email", words)) from error


def _role_problems(role: str) -> list[Problem]:
    return [] if role in Role.values else [Problem("role", f"Choose one of: {', '.join(Role.values)}.")]


def _lock(member: Membership) -> Membership:
    """The membership as it is now; the firm's row is locked so that two changes cannot cross."""
    Firm.objects.select_for_update().get(pk=member.firm_id)
    kept = Membership.objects.select_related("firm", "user").filter(pk=member.pk).first()
    if not isinstance(kept, Membership):
        raise CannotChangeMember("This log-in was removed already.")
    return kept


def _refuse_last_owner(member: Membership, first: str) -> None:
    if count_owners(member.firm) == 1:
        raise CannotChangeMember(f"{member.user.email} is the only owner. {first}: a firm needs one.")
