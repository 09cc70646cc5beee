"""The change order as paper: what it says, its photos, and what it keeps from the client."""

from io import BytesIO

import pikepdf
import pytest

from quoting.agree.models import Contract, Photo
from quoting.change.models import ChangeOrder, Pricing
from quoting.change.paper import TEMPLATE, paper_context, paper_of, render_change
from quoting.change.services import (
    BadPhoto,
    add_photo,
    attach_photos,
    detach_photo,
    mark_started,
    send_change_order,
)
from quoting.documents.paper import render_html
from tests.quoting.change_cast import plain, rot
from tests.quoting.change_job import ANSWERED, FOUND, approve, make_job, raise_change, send_change
from tests.quoting.test_photos import upload

pytestmark = [pytest.mark.django_db, pytest.mark.slow]


@pytest.fixture
def contract() -> Contract:
    return make_job()[0]


def words_of(change: ChangeOrder) -> str:
    """What the paper says, on one line."""
    return " ".join(render_html(TEMPLATE, paper_context(change, FOUND)).split())


def add(contract: Contract, size: tuple[int, int] = (40, 20), caption: str = "Rot at the drain") -> Photo:
    return add_photo(
        firm=contract.firm, job_id=contract.job_id, upload=upload(size), caption=caption, at=FOUND, by=None
    )


def test_the_paper_says_why_what_price_and_effect(contract: Contract):
    said = words_of(raise_change(contract, rot(), plain("-50.00", "material", "Old mirror kept")))

    for words in (
        "Change order J-0001-C1", "Concealed rot", "Soft from the door to the drain.", "agreed in Q-0001",
        "$22.03", "$264.36", "−$50.00", "Contract sum before", "Contract sum after", "December 4, 2026",
        "December 7, 2026", "Working days added", "Local codes and licensed practice decide",
    ):  # fmt: skip
        assert words in said
    assert "Not to exceed" not in said


def test_time_and_material_says_its_ceiling(contract: Contract):
    said = words_of(raise_change(contract, pricing=Pricing.NOT_TO_EXCEED))

    assert "Not to exceed" in said and "never above this amount" in said


def test_a_draft_says_that_it_is_no_offer_and_has_nothing_to_sign(contract: Contract):
    change = raise_change(contract)

    said = words_of(change)

    assert "DRAFT — not an offer" in said and "Name in print" not in said
    assert render_change(change, FOUND).startswith(b"%PDF")


def test_work_that_began_early_is_told(contract: Contract):
    change = raise_change(contract)
    assert "Begun early" not in words_of(change)

    begun = mark_started(firm=contract.firm, change_id=change.pk, at=FOUND, by=None)

    assert "Work on this began on November 15, 2026, before" in words_of(begun)


def test_a_sent_paper_can_be_signed_and_its_copy_is_signed(contract: Contract):
    change = approve(send_change(contract))

    shown = render_html(TEMPLATE, change.paper.context)
    executed = render_html(TEMPLATE, change.approval.executed.context)
    assert "Name in print" in shown and "192.0.2.7" not in shown
    assert "Name in print" not in executed and "192.0.2.7" in executed and change.paper.sha256 in executed


def test_photos_are_on_the_paper(contract: Contract):
    change, photo = raise_change(contract), add(contract)
    attach_photos(change, [photo.pk])

    sent = send_change_order(firm=contract.firm, change_id=change.pk, at=FOUND, by=None)

    assert f'src="picture:photo-{photo.pk}"' in render_html(TEMPLATE, sent.paper.context)
    with pikepdf.open(BytesIO(sent.paper.pdf)) as pdf:
        pictures = [picture for page in pdf.pages for picture in page.get_images().values()]
        assert {(int(picture.Width), int(picture.Height)) for picture in pictures} == {(40, 20)}
    assert list(paper_of(sent, FOUND).pictures) == [f"photo-{photo.pk}"]


def test_photos_can_be_taken_off_a_draft_only(contract: Contract):
    change, photo = raise_change(contract), add(contract)
    attach_photos(change, [photo.pk])
    detach_photo(change, photo.pk)
    sent = send_change_order(firm=contract.firm, change_id=change.pk, at=ANSWERED, by=None)

    with pytest.raises(BadPhoto, match="stays as it is"):
        attach_photos(sent, [photo.pk])
    assert not sent.photos.exists()


def test_only_photos_of_the_job_are_shown(contract: Contract):
    other, _ = make_job("Other Baths")
    change, own, strange = raise_change(contract), add(contract), add(other)

    with pytest.raises(BadPhoto, match="photos of this job"):
        attach_photos(change, [own.pk, strange.pk])

    assert not change.photos.exists()
