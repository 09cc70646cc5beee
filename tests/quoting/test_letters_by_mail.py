"""Letters through a real mail server on this machine: one that takes them, one that refuses, none at all."""

import socket
from collections.abc import Iterator
from contextlib import contextmanager
from email import message_from_bytes
from email.message import Message
from email.policy import default

import pytest
from aiosmtpd.controller import Controller
from aiosmtpd.smtp import SMTP, Envelope, Session
from django.core.exceptions import ImproperlyConfigured
from django.core.mail import mailers

from labour.firm.models import Firm
from quoting.documents.letters import change_letter, send_letter, write_letter
from quoting.documents.models import IssuedPaper, Letter, LetterStatus
from quoting.settings import _mailer
from tests.makers import AT, make_firm

pytestmark = pytest.mark.django_db


class Postbox:
    """What a mail server does with letters: keeps them, but knows no one called "nobody"."""

    def __init__(self, answer: str = "250 taken") -> None:
        self.answer, self.taken = answer, []

    async def handle_RCPT(
        self, server: SMTP, session: Session, envelope: Envelope, address: str, options: list[str]
    ) -> str:
        """Refuse whoever is not known here."""
        if address.startswith("nobody"):
            return "550 no such person here"
        envelope.rcpt_tos.append(address)
        return "250 known"

    async def handle_DATA(self, server: SMTP, session: Session, envelope: Envelope) -> str:
        """Keep the letter if letters are taken today."""
        if self.answer.startswith("2"):
            self.taken.append((envelope.rcpt_tos, message_from_bytes(envelope.content, policy=default)))
        return self.answer


def free_port() -> int:
    """A port that nothing listens on."""
    with socket.create_server(("127.0.0.1", 0)) as server:
        return int(server.getsockname()[1])


@pytest.fixture
def post_office(settings):
    """Starts a mail server that the settings name, and closes it."""

    @contextmanager
    def opened(postbox: Postbox) -> Iterator[Postbox]:
        port = use_port(settings)
        office = Controller(postbox, hostname="127.0.0.1", port=port)
        office.start()
        try:
            yield postbox
        finally:
            office.stop()

    return opened


def use_port(settings: object) -> int:
    """Let the settings name a mail server on a free port; none listens yet."""
    port = free_port()
    options = {"host": "127.0.0.1", "port": port, "timeout": 5}
    backend = "django.core.mail.backends.smtp.EmailBackend"
    settings.MAILERS = {"default": {"BACKEND": backend, "OPTIONS": options}}
    return port


@pytest.fixture
def committing(django_capture_on_commit_callbacks):
    """Runs what waits for the commit at the end of a with block."""
    return lambda: django_capture_on_commit_callbacks(execute=True)


def write(firm: Firm, *to: str) -> Letter:
    """A letter with one paper."""
    paper = IssuedPaper.objects.create(
        firm=firm, kind="invoice", number="I-0001", pdf=b"%PDF-1.7 \xff\x00 bytes", sha256="0" * 64,
        fingerprint={}, issued_at=AT,
    )  # fmt: skip
    words = {"about": "invoice I-0001", "subject": "Invoice for Zoë", "body": "Grüße\n.\nfrom us"}
    return write_letter(firm=firm, to=to, papers=[paper], at=AT, by=None, **words)


def files_of(message: Message) -> dict[str, bytes]:
    """Name and bytes of what is attached."""
    return {part.get_filename(): part.get_content() for part in message.iter_attachments()}


def test_a_letter_arrives_with_its_words_and_the_paper_s_very_bytes(post_office, committing):
    with post_office(Postbox()) as postbox, committing():
        letter = write(make_firm(), "zoe@example.com")

    ((recipients, message),) = postbox.taken
    assert recipients == ["zoe@example.com"]
    assert message["Subject"] == "Invoice for Zoë"
    assert message.get_body().get_content().splitlines() == ["Grüße", ".", "from us"]
    assert files_of(message) == {"I-0001.pdf": b"%PDF-1.7 \xff\x00 bytes"}
    assert Letter.objects.get(pk=letter.pk).status == LetterStatus.SENT


def test_a_letter_that_is_refused_is_kept_with_the_reason_and_can_be_sent_again(post_office, committing):
    firm = make_firm()
    with post_office(Postbox("451 come back later")), committing():
        letter = write(firm, "zoe@example.com")
    failed = Letter.objects.get(pk=letter.pk)
    with post_office(Postbox()) as postbox, committing():
        send_letter(firm=firm, letter_id=letter.pk, at=AT, by=None)

    sent = Letter.objects.get(pk=letter.pk)
    assert (failed.status, failed.error) == (
        LetterStatus.FAILED,
        "zoe@example.com: The mail server refused the letter: come back later (451)",
    )
    assert (sent.status, sent.error, len(postbox.taken)) == (LetterStatus.SENT, "", 1)


def test_one_bad_address_keeps_the_letter_from_nobody_else(post_office, committing):
    with post_office(Postbox()) as postbox, committing():
        letter = write(make_firm(), "nobody@example.com", "zoe@example.com")

    kept = Letter.objects.get(pk=letter.pk)
    assert [recipients for recipients, _ in postbox.taken] == [["zoe@example.com"]]
    assert kept.status == LetterStatus.FAILED
    assert kept.error == "nobody@example.com: no such person here (550) Reached zoe@example.com."


def test_a_letter_to_a_wrong_address_is_mended_and_sent(post_office, committing):
    firm = make_firm()
    with post_office(Postbox()) as postbox:
        with committing():
            letter = write(firm, "nobody@example.com")
        of_letter = {"firm": firm, "letter_id": letter.pk, "at": AT, "by": None}
        with committing():
            change_letter(to=["zoe@example.com"], subject=letter.subject, body=letter.body, **of_letter)
            send_letter(**of_letter)

    assert [recipients for recipients, _ in postbox.taken] == [["zoe@example.com"]]
    assert Letter.objects.get().status == LetterStatus.SENT


def test_without_a_mail_server_the_letter_is_kept_and_nothing_is_raised(settings, committing):
    use_port(settings)

    with committing():
        letter = write(make_firm(), "zoe@example.com")

    kept = Letter.objects.get(pk=letter.pk)
    assert kept.status == LetterStatus.FAILED
    assert kept.error.startswith("The mail server could not be reached: ")


def test_the_mail_server_comes_from_the_environment(monkeypatch):
    monkeypatch.setenv("EMAIL_HOST", "mail.example.com")
    monkeypatch.setenv("EMAIL_PORT", "2525")
    monkeypatch.setenv("EMAIL_USER", "office")
    monkeypatch.setenv("EMAIL_PASSWORD", "brass")

    options = _mailer()["OPTIONS"]

    named = {name: options[name] for name in ("host", "port", "username", "password")}
    assert named == {"host": "mail.example.com", "port": 2525, "username": "office", "password": "brass"}
    assert (options["use_tls"], options["use_ssl"]) == (True, False)


@pytest.mark.parametrize(("tls", "port"), [("starttls", 587), ("ssl", 465), ("none", 25)])
def test_every_way_of_locking_the_line_has_its_usual_port(monkeypatch, settings, tls, port):
    monkeypatch.setenv("EMAIL_HOST", "mail.example.com")
    monkeypatch.setenv("EMAIL_TLS", tls)

    settings.MAILERS = {"default": _mailer()}

    assert mailers.default.port == port


def test_another_way_of_locking_the_line_is_refused_by_name(monkeypatch):
    monkeypatch.setenv("EMAIL_HOST", "mail.example.com")
    monkeypatch.setenv("EMAIL_TLS", "yes")

    with pytest.raises(ImproperlyConfigured, match="EMAIL_TLS must be starttls, ssl or none, not 'yes'"):
        _mailer()


def test_without_a_host_letters_are_written_to_files_beside_the_data(monkeypatch):
    monkeypatch.delenv("EMAIL_HOST", raising=False)
    monkeypatch.delenv("EMAIL_BACKEND", raising=False)

    mailer = _mailer()
    assert mailer["BACKEND"] == "django.core.mail.backends.filebased.EmailBackend"
    assert mailer["OPTIONS"]["file_path"].name == "letters"


def test_a_mailer_that_is_not_set_up_fails_the_letter_not_the_page(settings, committing):
    settings.MAILERS = {"default": {"BACKEND": "nowhere.to.be.Found"}}

    with committing():
        letter = write(make_firm(), "zoe@example.com")

    assert Letter.objects.get(pk=letter.pk).error.startswith("The letter could not be sent: ")
