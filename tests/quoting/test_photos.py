"""Photos of a job: made smaller, turned upright, and told nothing of where and by what they were taken."""

import struct
import zlib
from io import BytesIO
from typing import Any

import pytest
from django.http import Http404
from PIL import Image, ImageFile

from quoting.agree.models import Photo
from quoting.change.photos import BadPhoto, add_photo, shrink_photo
from tests.job_makers import make_contract
from tests.makers import AT, make_firm

ORIENTATION, MODEL, GPS = 0x0112, 0x0110, 0x8825


def upload(size: tuple[int, int] = (40, 20), kind: str = "JPEG", **saved: Any) -> bytes:
    """A picture whose left half is red and whose right half is blue."""
    picture = Image.new("RGB", size, "red")
    picture.paste("blue", (size[0] // 2, 0, *size))
    kept = BytesIO()
    picture.save(kept, kind, **saved)
    return kept.getvalue()


def taken_with_phone(orientation: int = 1) -> bytes:
    """The same as a phone writes it: with its place, its maker's model and which way it was held."""
    exif = Image.Exif()
    exif[ORIENTATION], exif[MODEL] = orientation, "Pocket camera"
    exif[GPS] = {1: "N", 2: (44.0, 30.0, 0.0), 3: "W", 4: (70.0, 15.0, 0.0)}
    return upload(exif=exif, comment=b"our house", quality=95)


def head_of_png(width: int, height: int) -> bytes:
    """A tiny file that says it is this large."""
    body = b"IHDR" + struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    start = b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 13) + body + struct.pack(">I", zlib.crc32(body))
    return start + struct.pack(">I", 10) + b"IDAT" + b"\0" * 14


@pytest.mark.django_db
def test_nothing_but_the_picture_is_kept():
    contract = make_contract(make_firm())
    sent = taken_with_phone()

    photo = add_photo(
        firm=contract.firm, job_id=contract.job_id, upload=sent, caption=" Rot ", at=AT, by=None
    )

    assert b"Pocket camera" in sent and dict(Image.open(BytesIO(sent)).getexif().get_ifd(GPS))
    kept = Image.open(BytesIO(photo.jpeg))
    assert (kept.format, dict(kept.getexif()), kept.getexif().get_ifd(GPS)) == ("JPEG", {}, {})
    assert set(kept.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    assert b"Pocket" not in photo.jpeg and b"our house" not in photo.jpeg and b"Exif" not in photo.jpeg
    assert (photo.caption, photo.width, photo.height) == ("Rot", 40, 20)


def test_a_picture_held_sideways_is_turned_upright():
    # 6: the camera was turned a quarter; the left of the file is the top of the picture.
    small = shrink_photo(taken_with_phone(orientation=6))

    assert small.size == (20, 40)
    top, bottom = small.getpixel((10, 5)), small.getpixel((10, 35))
    assert top[0] > 200 > top[2] and bottom[2] > 200 > bottom[0]


@pytest.mark.parametrize(
    ("size", "kept"), [((3200, 1000), (1600, 500)), ((900, 2400), (600, 1600)), ((50, 9), (50, 9))]
)
def test_the_longer_side_is_at_most_1600_pixels(size: tuple[int, int], kept: tuple[int, int]):
    assert shrink_photo(upload(size)).size == kept


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_a_picture_whose_end_is_missing_is_refused_though_decoders_may_fill_it(kind: str, monkeypatch):
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)

    with pytest.raises(BadPhoto, match=r"damaged|cut off"):
        shrink_photo(upload((600, 600), kind)[:-12])


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_the_usual_kinds_are_read(kind: str):
    assert shrink_photo(upload(kind=kind)).size == (40, 20)


def test_clear_parts_become_white():
    kept = BytesIO()
    Image.new("RGBA", (8, 8), (0, 0, 0, 0)).save(kept, "PNG")

    assert shrink_photo(kept.getvalue()).getpixel((4, 4)) == (255, 255, 255)


@pytest.mark.parametrize(
    ("sent", "words"),
    [
        (b"", "empty"),
        (b"%PDF-1.7 no picture", "not a picture"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "not a picture"),
        (upload(kind="GIF"), "not a picture"),
        (upload(kind="TIFF"), "not a picture"),
        (upload((600, 600), "PNG")[:300], "damaged|cut off"),
        (upload((600, 600))[:900], "damaged|cut off"),
        (upload((600, 600), "WEBP")[:-9], "damaged|cut off"),
        (b"\0" * (15 * 1024 * 1024 + 1), "15 MB"),
        (head_of_png(10_000, 5_001), "50 megapixels"),
        (head_of_png(12_000, 10_000), "50 megapixels"),
        (head_of_png(60_000, 60_000), "damaged|megapixels"),
    ],
)
def test_what_is_no_fit_picture_is_refused(sent: bytes, words: str):
    with pytest.raises(BadPhoto, match=words) as refused:
        shrink_photo(sent)

    assert refused.value.problems[0].field == "photo"


@pytest.mark.django_db
def test_the_same_picture_sent_twice_is_kept_once():
    contract = make_contract(make_firm())
    asked = {"firm": contract.firm, "job_id": contract.job_id, "caption": "", "at": AT, "by": None}

    first, again = add_photo(upload=upload(), **asked), add_photo(upload=upload(), **asked)

    assert first == again
    assert Photo.objects.count() == 1


@pytest.mark.django_db
def test_another_firms_job_takes_no_photo():
    contract = make_contract(make_firm())

    with pytest.raises(Http404):
        add_photo(
            firm=make_firm("Other"), job_id=contract.job_id, upload=upload(), caption="", at=AT, by=None
        )


@pytest.mark.django_db
def test_a_caption_is_short():
    contract = make_contract(make_firm())

    with pytest.raises(BadPhoto, match="160"):
        add_photo(
            firm=contract.firm, job_id=contract.job_id, upload=upload(), caption="a" * 161, at=AT, by=None
        )

    assert not Photo.objects.exists()
