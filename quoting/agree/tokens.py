"""Secret addresses of clients: signed, so that none can be guessed or altered.

Comes in: a row of `ClientLink`, or the token of an address. Goes out: the token, or the row while it is open.
"""

from datetime import datetime
from secrets import token_hex
from typing import cast

from django.core.signing import BadSignature, Signer

from labour.engine.refusal import Refusal
from quoting.agree.models import ClientLink

MOST_LETTERS = 200


class LinkClosed(Refusal):
    """The address opens nothing, or nothing any more."""


def new_nonce() -> str:
    """What makes one link's token unlike every other's."""
    return token_hex(16)


def token_of(link: ClientLink) -> str:
    """The secret part of the link's address: number, nonce and signature, all safe in an address."""
    return _signer(type(link)).sign(f"{link.pk}.{link.nonce}")


def read_token[LinkT: ClientLink](model: type[LinkT], token: str, at: datetime) -> LinkT:
    """The open link behind a token. Raise LinkClosed when it is altered, unknown, withdrawn or has run out.

    Altered and unknown read alike, so that trying tells nothing.
    """
    link = _find_link(model, token)
    if link is None:
        raise LinkClosed(
            "This address is not complete. Open the link in the e-mail again, or ask for a new one."
        )
    if link.revoked_at is not None:
        raise LinkClosed("This address was withdrawn. Please ask for a new one.")
    if not link.is_open(at):
        raise LinkClosed("This address has run out. Please ask for a new one.")
    return link


def remember_opening(link: ClientLink, at: datetime) -> None:
    """Keep when the client opened the address first and last."""
    rows = type(link)._default_manager.filter(pk=link.pk)
    rows.filter(first_opened_at=None).update(first_opened_at=at)
    rows.update(last_opened_at=at)


def _find_link[LinkT: ClientLink](model: type[LinkT], token: str) -> LinkT | None:
    if len(token) > MOST_LETTERS:
        return None
    try:
        number, _, nonce = _signer(model).unsign(token).partition(".")
    except BadSignature:
        return None
    rows = model._default_manager.select_related("firm")
    return cast("LinkT | None", rows.filter(pk=int(number), nonce=nonce).first())


def _signer(model: type[ClientLink]) -> Signer:
    """A token of one kind of link opens no other kind."""
    return Signer(salt=f"screedbook.link.{model._meta.model_name}", sep=".")
