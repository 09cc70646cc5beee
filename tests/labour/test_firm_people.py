"""Log-ins, roles and API keys."""

import pytest

from labour.firm.access import find_member_by_token
from labour.firm.models import ApiToken, AuditLine, Firm, Membership, Role, User
from labour.firm.people import (
    CannotChangeMember,
    CannotInviteMember,
    CannotMakeToken,
    change_role,
    invite_member,
    make_token,
    remove_member,
    revoke_token,
)
from tests.makers import AT, make_firm, make_member

pytestmark = pytest.mark.django_db
PAGE = "https://quotes.example.com/accounts/password/reset/"


def invite(firm: Firm, email: str = "ines@example.com", role: str = Role.CREW) -> Membership:
    by = User.objects.filter(membership__firm=firm).first() or make_member(firm)
    return invite_member(firm=firm, email=email, role=role, password_page=PAGE, by=by, at=AT)


def owner_of(firm: Firm) -> Membership:
    return make_member(firm).membership


def test_an_invited_log_in_has_no_password_and_gets_a_mail(mailoutbox, django_capture_on_commit_callbacks):
    firm = make_firm()

    with django_capture_on_commit_callbacks(execute=True):
        member = invite(firm, " Ines@Example.com ")

    (mail,) = mailoutbox
    assert (member.user.email, member.role, member.firm) == ("ines@example.com", Role.CREW, firm)
    assert not member.user.has_usable_password()
    assert mail.to == ["ines@example.com"]
    assert PAGE in mail.body and firm.name in mail.subject


def test_an_address_that_has_a_log_in_anywhere_is_refused():
    make_member(make_firm("Pine Street Tile"), email="ines@example.com")

    with pytest.raises(CannotInviteMember) as refusal:
        invite(make_firm(), "INES@example.com")

    assert [problem.field for problem in refusal.value.problems] == ["email"]
    assert "already has a log-in" in str(refusal.value)


@pytest.mark.parametrize(
    ("typed", "field"), [({"email": "ines"}, "email"), ({"role": "boss"}, "role"), ({"email": ""}, "email")]
)
def test_a_wrong_invitation_names_the_field_and_makes_nobody(typed, field):
    firm = make_firm()
    make_member(firm)

    with pytest.raises(CannotInviteMember) as refusal:
        invite(firm, **typed)

    assert [problem.field for problem in refusal.value.problems] == [field]
    assert User.objects.count() == 1


def test_a_removed_person_can_be_invited_again_by_the_same_firm_only():
    firm, other = make_firm(), make_firm("Pine Street Tile")
    member = invite(firm)
    remove_member(member=member, by=User.objects.first(), at=AT)

    with pytest.raises(CannotInviteMember):
        invite(other)
    again = invite(firm, role=Role.OFFICE)

    assert (again.user, again.role) == (member.user, Role.OFFICE)


def test_a_role_is_changed_and_recorded():
    member = invite(make_firm())

    change_role(member=member, role=Role.OFFICE, by=User.objects.first(), at=AT)

    member.refresh_from_db()
    assert member.role == Role.OFFICE
    assert AuditLine.objects.get(action="change role").detail == {"from": "crew", "to": "office"}


def test_an_unknown_role_is_refused():
    member = invite(make_firm())

    with pytest.raises(CannotChangeMember, match="owner, office, crew"):
        change_role(member=member, role="boss", by=User.objects.first(), at=AT)


def test_the_last_owner_can_neither_step_down_nor_be_removed():
    owner = owner_of(make_firm())

    with pytest.raises(CannotChangeMember, match="only owner"):
        change_role(member=owner, role=Role.CREW, by=owner.user, at=AT)
    with pytest.raises(CannotChangeMember, match="only owner"):
        remove_member(member=owner, by=owner.user, at=AT)

    owner.refresh_from_db()
    assert owner.role == Role.OWNER


def test_one_of_two_owners_can_be_removed():
    firm = make_firm()
    first = owner_of(firm)
    second = invite(firm, role=Role.OWNER)

    remove_member(member=first, by=second.user, at=AT)

    assert list(Membership.objects.of(firm)) == [second]


def test_a_key_opens_the_door_and_only_its_digest_is_kept():
    owner = owner_of(make_firm())

    token = make_token(membership=owner, name="Export", at=AT)

    row = ApiToken.objects.get()
    assert find_member_by_token(token) == owner
    assert token not in (row.digest, row.name)
    assert len(row.digest) == 64 and len(token) >= 43


def test_two_keys_differ_and_a_revoked_one_opens_nothing():
    owner = owner_of(make_firm())
    kept = make_token(membership=owner, name="Export", at=AT)
    gone = make_token(membership=owner, name="Old phone", at=AT)

    revoke_token(token=ApiToken.objects.get(name="Old phone"), by=owner.user, at=AT)

    assert kept != gone
    assert find_member_by_token(gone) is None
    assert find_member_by_token(kept) == owner


@pytest.mark.parametrize("name", ["  ", "K" * 61])
def test_a_key_needs_a_name_that_fits(name):
    owner = owner_of(make_firm())

    with pytest.raises(CannotMakeToken):
        make_token(membership=owner, name=name, at=AT)

    assert not ApiToken.objects.exists()


def test_removing_a_person_ends_their_keys():
    firm = make_firm()
    owner_of(firm)
    member = invite(firm, role=Role.OWNER)
    token = make_token(membership=member, name="Export", at=AT)

    remove_member(member=member, by=User.objects.first(), at=AT)

    assert find_member_by_token(token) is None
