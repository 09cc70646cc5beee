"""Letters: the firm's e-mails with its papers. Written, changed while they may be, sent, and always kept.

Nothing leaves before the transaction is committed. A letter that could not be sent keeps the reason, can be
changed, and can be sent again.
"""

from collections.abc import Sequence
from datetime import datetime, timedelta
from functools import partial
from typing import TypedDict, Unpack

from django.core.exceptions import ValidationError
from django.core.validators import validate_email
from django.db import transaction
from django.shortcuts import get_object_or_404

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import AuditLine, Firm, User
from quoting.documents.mailing import one_line, post
from quoting.documents.models import IssuedPaper, Letter, LetterStatus

MOST_RECIPIENTS = 10
LONGEST_SUBJECT = 160
LONGEST_BODY = 8000
# Longer than any mail server is waited for; after that the process that was to send it has gone.
PATIENCE = timedelta(minutes=10)


class CannotWriteLetter(Refusal):
    """The letter has no one to go to, or words that do not fit."""


class CannotSendLetter(Refusal):
    """The letter was sent already, or is on its way."""


class LetterWords(TypedDict):
    """What a letter says. about: kind and number of the paper it is about. to: e-mail addresses."""

    about: str
    to: Sequence[str]
    subject: str
    body: str


@transaction.atomic
def write_letter(
    *,
    firm: Firm,
    papers: Sequence[IssuedPaper],
    at: datetime,
    by: User | None,
    draft: bool = False,
    **words: Unpack[LetterWords],
) -> Letter:
    """Keep a letter with its papers; unless it is a draft, it is sent once the transaction is committed.

    Raise CannotWriteLetter for a bad address or text. That sending fails is never raised: it is kept on the
    letter, see `Letter.status` and `Letter.error`.
    """
    if any(paper.firm_id != firm.pk for paper in papers):
        raise CannotWriteLetter(Problem("papers", "must be papers of this firm."))
    letter = Letter(firm=firm, about=words["about"], status=LetterStatus.DRAFT, created_at=at, created_by=by)
    _fill(letter, words["to"], words["subject"], words["body"])
    letter.save()
    letter.papers.set(papers)
    _note(letter, "wrote letter", at, by)
    if not draft:
        _send(letter, at, by)
    return letter


@transaction.atomic
def change_letter(
    *, firm: Firm, letter_id: int, to: Sequence[str], subject: str, body: str, at: datetime, by: User | None
) -> Letter:
    """Give a letter that has not gone out another address or other words."""
    letter = _lock(firm, letter_id)
    if letter.status not in (LetterStatus.DRAFT, LetterStatus.FAILED):
        raise CannotWriteLetter("This letter has gone out and stays as it is. Write a new one.")
    _fill(letter, to, subject, body)
    letter.save()
    _note(letter, "changed letter", at, by)
    return letter


@transaction.atomic
def send_letter(*, firm: Firm, letter_id: int, at: datetime, by: User | None) -> Letter:
    """Send a draft, or try again with a letter that could not be sent. Goes out after the commit."""
    letter = _lock(firm, letter_id)
    if letter.status == LetterStatus.SENT:
        raise CannotSendLetter("This letter was sent already. Write a new one to send it again.")
    if letter.status == LetterStatus.WAITING and not is_stuck(letter, at):
        raise CannotSendLetter("This letter is on its way; look again in a few minutes.")
    _send(letter, at, by)
    return letter


def is_stuck(letter: Letter, at: datetime) -> bool:
    """Whether it should have gone out by now, and may be sent again."""
    late = letter.tried_at is None or at - letter.tried_at >= PATIENCE
    return letter.status == LetterStatus.WAITING and late


def _lock(firm: Firm, letter_id: int) -> Letter:
    rows = Letter.objects.of(firm).select_for_update(of=("self",))
    letter: Letter = get_object_or_404(rows, pk=letter_id)
    return letter


def _fill(letter: Letter, to: Sequence[str], subject: str, body: str) -> None:
    """Set address and words, with every problem of them named."""
    addresses = list(dict.fromkeys(address.strip() for address in to if address.strip()))
    letter.to, letter.subject = addresses, one_line(subject)
    letter.body = body.replace("\r\n", "\n").strip()
    problems = [*_problems_of(addresses)]
    if not 1 <= len(letter.subject) <= LONGEST_SUBJECT:
        problems.append(Problem("subject", f"Write a subject of 1 to {LONGEST_SUBJECT} characters."))
    if not 1 <= len(letter.body) <= LONGEST_BODY:
        problems.append(Problem("body", f"Write a letter of 1 to {LONGEST_BODY} characters."))
    if problems:
        raise CannotWriteLetter(*problems)


def _problems_of(addresses: Sequence[str]) -> list[Problem]:
    if not addresses:
        return [Problem("to", "Write at least one e-mail address, like name@example.com.")]
    if len(addresses) > MOST_RECIPIENTS:
        return [Problem("to", f"A letter goes to at most {MOST_RECIPIENTS} addresses.")]
    return [
        Problem("to", f"“{one_line(address)[:80]}” is no e-mail address; write it like name@example.com.")
        for address in addresses
        if not _is_address(address)
    ]


def _is_address(text: str) -> bool:
    try:
        validate_email(text)
    except ValidationError:
        return False
    return True


def _send(letter: Letter, at: datetime, by: User | None) -> None:
    """Say that it is to be sent, and send it when that is committed."""
    letter.status, letter.tried_at, letter.error = LetterStatus.WAITING, at, ""
    letter.save()
    _note(letter, "sent letter", at, by)
    transaction.on_commit(partial(_deliver, letter), robust=True)


def _deliver(letter: Letter) -> None:
    """Send it and keep how that went."""
    letter.error = post(letter)
    letter.status = LetterStatus.FAILED if letter.error else LetterStatus.SENT
    letter.save(update_fields=["status", "error"])


def _note(letter: Letter, action: str, at: datetime, by: User | None) -> None:
    AuditLine.objects.create(
        firm=letter.firm, at=at, by=by, action=action, subject=letter.about, detail={"to": letter.to}
    )
