"""A client's private address of one job's account: made, opened, withdrawn."""

from datetime import datetime, timedelta

from django.db import transaction

from labour.firm.access import get_of
from labour.firm.models import Firm, User
from quoting.agree.models import Contract
from quoting.agree.queries import get_contract
from quoting.agree.tokens import new_nonce, read_token, remember_opening
from quoting.bill.issuing import note
from quoting.bill.models import AccountLink

DAYS_OPEN = 180
"""Long enough for a remodel and its last payment; a new link can be made at any time."""


@transaction.atomic
def make_account_link(*, firm: Firm, job_id: int, at: datetime, by: User | None) -> AccountLink:
    """A secret address of the job's bills."""
    contract = get_contract(firm, job_id)
    link: AccountLink = AccountLink.objects.create(
        firm=firm,
        contract=contract,
        nonce=new_nonce(),
        created_at=at,
        created_by=by,
        expires_at=at + timedelta(days=DAYS_OPEN),
    )
    note(contract, "made link to account", at, by)
    return link


@transaction.atomic
def revoke_account_link(*, firm: Firm, link_id: int, at: datetime, by: User | None) -> AccountLink:
    """Close a link for good. Withdrawing it twice changes nothing."""
    link = get_of(AccountLink, firm, "contract__job", "contract__firm", pk=link_id)
    if link.revoked_at is None:
        link.revoked_at = at
        link.save(update_fields=["revoked_at"])
        note(link.contract, "withdrew link to account", at, by)
    return link


def open_account_link(token: str, at: datetime) -> Contract:
    """The contract behind a client's address. Raise LinkClosed."""
    link = read_token(AccountLink, token, at)
    remember_opening(link, at)
    return get_of(Contract, link.firm, "job", "client__firm", "firm", pk=link.contract_id)


def list_account_links(contract: Contract) -> list[AccountLink]:
    """The job's links, newest first."""
    return list(contract.account_links.order_by("-pk"))
