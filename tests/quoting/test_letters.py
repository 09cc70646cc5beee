"""Letters: who they go to, what they carry, and that none is ever lost."""

from datetime import timedelta

import pytest
from django.core import mail
from django.db import transaction
from django.http import Http404

from labour.firm.models import AuditLine, Firm
from quoting.documents.letters import (
    CannotSendLetter,
    CannotWriteLetter,
    change_letter,
    send_letter,
    write_letter,
)
from quoting.documents.models import IssuedPaper, Letter, LetterStatus
from quoting.documents.queries import list_letters
from tests.makers import AT, make_firm, make_member

pytestmark = pytest.mark.django_db


def make_paper(firm: Firm, number: str = "I-0001", kind: str = "invoice") -> IssuedPaper:
    """A paper that was issued; its bytes do not matter here."""
    return IssuedPaper.objects.create(
        firm=firm, kind=kind, number=number, pdf=b"%PDF-1.7 " + kind.encode(), sha256="0" * 64,
        fingerprint={}, issued_at=AT,
    )  # fmt: skip


def write(firm: Firm, **changes: object) -> Letter:
    """A letter of the firm about its invoice."""
    words = {"about": "invoice I-0001", "to": ["ada@example.com"], "subject": "Your invoice", "body": "Hello"}
    return write_letter(**({"firm": firm, "papers": [], "at": AT, "by": None} | words | changes))


@pytest.fixture
def firm():
    made = make_firm()
    made.email = "office@harbor.example.com"
    made.save()
    return made


@pytest.fixture
def committing(django_capture_on_commit_callbacks):
    """Runs what waits for the commit at the end of a with block."""
    return lambda: django_capture_on_commit_callbacks(execute=True)


def test_a_letter_goes_out_with_its_papers_as_files(firm, committing):
    with committing():
        letter = write(firm, papers=[make_paper(firm), make_paper(firm, "I-0001", "receipt")])

    (message,) = mail.outbox
    assert (message.subject, message.body, message.to) == ("Your invoice", "Hello", ["ada@example.com"])
    assert [(file.filename, file.content, file.mimetype) for file in message.attachments] == [
        ("I-0001.pdf", b"%PDF-1.7 invoice", "application/pdf"),
        ("receipt-I-0001.pdf", b"%PDF-1.7 receipt", "application/pdf"),
    ]
    assert Letter.objects.get(pk=letter.pk).status == LetterStatus.SENT


def test_a_letter_is_from_the_firm_and_answers_go_to_it(firm, committing):
    with committing():
        write(firm)

    (message,) = mail.outbox
    assert message.from_email == "Harbor Lane Baths <office@harbor.example.com>"
    assert message.reply_to == ["office@harbor.example.com"]


def test_a_firm_without_an_address_writes_from_the_house_s(committing, settings):
    settings.DEFAULT_FROM_EMAIL = "post@example.com"

    with committing():
        write(make_firm("Baths, Tubs & Co."))

    (message,) = mail.outbox
    assert message.from_email == '"Baths, Tubs & Co." <post@example.com>'
    assert message.reply_to == []


def test_everyone_gets_it_and_sees_who_else_did(firm, committing):
    with committing():
        write(firm, to=["ada@example.com", " bo@example.com ", "ada@example.com"])

    assert [message.to for message in mail.outbox] == [["ada@example.com"], ["bo@example.com"]]
    assert {message.message()["To"] for message in mail.outbox} == {"ada@example.com, bo@example.com"}


def test_nothing_leaves_before_the_commit_or_without_it(firm, committing):
    with committing(), pytest.raises(ZeroDivisionError), transaction.atomic():
        write(firm)
        raise ZeroDivisionError

    assert mail.outbox == []
    assert not Letter.objects.exists()


def test_a_draft_stays_until_someone_sends_it(firm, committing):
    with committing():
        letter = write(firm, draft=True)
    assert (letter.status, mail.outbox) == (LetterStatus.DRAFT, [])

    with committing():
        send_letter(firm=firm, letter_id=letter.pk, at=AT, by=None)

    assert len(mail.outbox) == 1
    assert Letter.objects.get().status == LetterStatus.SENT


@pytest.mark.parametrize(
    "address",
    [
        "ada",
        "ada@",
        "ada@example.com\nBcc: all@example.com",
        "a@example.com, b@example.com",
        "<ada@example.com>",
    ],
)
def test_what_is_no_address_is_refused_and_named(firm, address):
    with pytest.raises(CannotWriteLetter, match=r"to: “.*” is no e-mail address") as refused:
        write(firm, to=["bo@example.com", address])

    assert len(refused.value.problems) == 1
    assert address.split("\n")[0] in str(refused.value)
    assert not Letter.objects.exists()


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"to": []}, "to: Write at least one"),
        ({"to": [f"a{number}@example.com" for number in range(11)]}, "to: .* at most 10"),
        ({"subject": " \n "}, "subject: Write a subject of 1 to 160"),
        ({"subject": "x" * 161}, "subject: Write a subject of 1 to 160"),
        ({"body": " "}, "body: Write a letter of 1 to 8000"),
        ({"body": "x" * 8001}, "body: Write a letter of 1 to 8000"),
    ],
)
def test_a_letter_without_address_or_fitting_words_is_refused(firm, changes, words):
    with pytest.raises(CannotWriteLetter, match=words):
        write(firm, **changes)


def test_a_subject_or_name_of_two_lines_adds_no_header(firm, committing):
    firm.name = "Harbor\r\nBcc: all@example.com"
    with committing():
        write(firm, subject="Your invoice\r\nBcc: all@example.com\x00")

    message = mail.outbox[0].message()
    assert message["Bcc"] is None
    assert message["Subject"] == "Your invoice Bcc: all@example.com"
    assert message["From"].addresses[0].display_name == "Harbor Bcc: all@example.com"
    assert mail.outbox[0].recipients() == ["ada@example.com"]


def test_papers_of_another_firm_are_not_sent(firm):
    with pytest.raises(CannotWriteLetter, match="papers: must be papers of this firm"):
        write(firm, papers=[make_paper(make_firm("Tidewater Tile"))])


def test_a_draft_can_be_changed(firm):
    letter = write(firm, draft=True)
    words = {"to": ["bo@example.com"], "subject": "Reminder", "body": "Dear Bo,\r\n…"}

    change_letter(firm=firm, letter_id=letter.pk, at=AT, by=None, **words)

    kept = Letter.objects.get()
    assert (kept.to, kept.subject, kept.body) == (["bo@example.com"], "Reminder", "Dear Bo,\n…")


def test_a_letter_that_has_gone_out_is_not_changed_or_sent_again(firm, committing):
    with committing():
        letter = write(firm)
    of_letter = {"firm": firm, "letter_id": letter.pk, "at": AT, "by": None}

    with pytest.raises(CannotWriteLetter, match="stays as it is"):
        change_letter(to=["bo@example.com"], subject="x", body="x", **of_letter)
    with pytest.raises(CannotSendLetter, match="was sent already"):
        send_letter(**of_letter)

    assert len(mail.outbox) == 1


def test_a_letter_on_its_way_is_not_sent_twice_but_picked_up_when_it_was_left_lying(firm):
    letter = write(firm)

    with pytest.raises(CannotSendLetter, match="on its way"):
        send_letter(firm=firm, letter_id=letter.pk, at=AT + timedelta(minutes=1), by=None)
    sent = send_letter(firm=firm, letter_id=letter.pk, at=AT + timedelta(minutes=11), by=None)

    assert sent.tried_at == AT + timedelta(minutes=11)


def test_another_firm_s_letter_does_not_exist(firm):
    letter = write(firm, draft=True)

    with pytest.raises(Http404):
        send_letter(firm=make_firm("Tidewater Tile"), letter_id=letter.pk, at=AT, by=None)


def test_letters_about_a_paper_are_listed_newest_first(firm):
    first, second = write(firm, draft=True), write(firm, draft=True)
    write(firm, draft=True, about="invoice I-0002")
    write(make_firm("Tidewater Tile"), draft=True)

    assert list_letters(firm, "invoice I-0001") == [second, first]


def test_who_wrote_and_sent_a_letter_is_kept(firm):
    owner = make_member(firm)

    write(firm, by=owner)

    lines = AuditLine.objects.of(firm).order_by("pk")
    assert [line.action for line in lines] == ["wrote letter", "sent letter"]
    assert {(line.by, line.subject) for line in lines} == {(owner, "invoice I-0001")}
