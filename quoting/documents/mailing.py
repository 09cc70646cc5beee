"""Turns a letter into e-mail and hands it to the mail server of the settings.

Comes in: a letter with its papers. Goes out: "" when everyone was reached, else who was not,
and why, in words.
"""

import smtplib
from collections.abc import Iterable
from dataclasses import dataclass
from email.headerregistry import Address

from django.conf import settings
from django.core.mail import EmailMessage, mailers

from quoting.documents.models import IssuedPaper, Letter

LONGEST_ERROR = 300
_TO_FILES = "django.core.mail.backends.filebased.EmailBackend"
_TO_NOBODY = (
    _TO_FILES,
    "django.core.mail.backends.console.EmailBackend",
    "django.core.mail.backends.dummy.EmailBackend",
)


@dataclass(frozen=True, slots=True)
class NoServer:
    """No mail server is set up. keeps_files: whether letters are at least written to files."""

    keeps_files: bool


def find_no_server() -> NoServer | None:
    """Why letters reach nobody; None when the settings name a mail server."""
    backend = settings.MAILERS["default"].get("BACKEND")
    return NoServer(keeps_files=backend == _TO_FILES) if backend in _TO_NOBODY else None


def post(letter: Letter) -> str:
    """Send the letter, to each person by itself, so that one bad address keeps it from nobody else.

    Everyone sees who else got it. Never raises: what went wrong is returned as words for a person.
    """
    reached: list[str] = []
    refused: list[str] = []
    try:
        messages = {address: _message(letter, address) for address in letter.to}
        with mailers.default as connection:
            for address, message in messages.items():
                try:
                    connection.send_messages([message])
                    reached.append(address)
                except (smtplib.SMTPRecipientsRefused, smtplib.SMTPDataError) as error:
                    refused.append(f"{address}: {_words(error)}")
    except Exception as error:  # whatever a mail server or its absence may raise is kept on the letter
        refused += [] if len(reached) == len(letter.to) else [_words(error)]
    if refused and reached:
        refused.append(f"Reached {', '.join(reached)}.")
    return " ".join(refused)[:LONGEST_ERROR]


def _message(letter: Letter, address: str) -> EmailMessage:
    firm = letter.firm
    sender = Address(display_name=one_line(firm.name), addr_spec=firm.email or settings.DEFAULT_FROM_EMAIL)
    message = EmailMessage(
        subject=one_line(letter.subject),
        body=letter.body,
        from_email=str(sender),
        to=[address],
        reply_to=[firm.email] if firm.email else None,
        headers={"To": ", ".join(letter.to)},
    )
    for name, content in _files(letter.papers.order_by("pk")):
        message.attach(name, content, "application/pdf")
    return message


def _files(papers: Iterable[IssuedPaper]) -> Iterable[tuple[str, bytes]]:
    """Each paper under its number; a second one of the same number under its kind as well."""
    taken: set[str] = set()
    for paper in papers:
        name = f"{paper.number}.pdf"
        if name in taken:
            name = f"{paper.kind}-{name}"
        taken.add(name)
        yield name, bytes(paper.pdf)


def one_line(text: str) -> str:
    """The text on one line, without control characters: fit for a header.

    >>> one_line("Invoice\\r\\nBcc: all@example.com")
    'Invoice Bcc: all@example.com'
    """
    spaced = "".join(letter if letter.isprintable() else " " for letter in text)
    return " ".join(spaced.split())


def _words(error: Exception) -> str:
    """What happened, for the person who wanted the letter sent."""
    match error:
        case smtplib.SMTPRecipientsRefused():
            return "; ".join(_answer(*answer) for answer in error.recipients.values())
        case smtplib.SMTPAuthenticationError():
            return f"The mail server did not accept the name and password: {_answer(*error.args[:2])}"
        case smtplib.SMTPResponseException():
            return f"The mail server refused the letter: {_answer(error.smtp_code, error.smtp_error)}"
        case OSError():
            return f"The mail server could not be reached: {error}."
    return f"The letter could not be sent: {error}."


def _answer(code: int, said: bytes | str) -> str:
    text = said.decode("utf-8", "replace") if isinstance(said, bytes) else said
    return f"{one_line(text)} ({code})"
