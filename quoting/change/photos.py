"""Photos of a job: an upload comes in; a smaller JPEG goes out that says neither where nor by what.

Only the picture itself is kept: it is turned upright, drawn anew on white, and everything else in the file
(place, device, time, comments, colour profile) is left behind.
"""

import hashlib
import struct
import warnings
import zlib
from collections.abc import Iterable
from datetime import datetime
from io import BytesIO

from django.db import transaction
from PIL import (
    Image,
    ImageOps,
    JpegImagePlugin,
    PngImagePlugin,
    UnidentifiedImageError,
    WebPImagePlugin,
)

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import AuditLine, Firm, User
from quoting.agree.models import Photo
from quoting.agree.queries import lock_contract
from quoting.change.models import ChangeOrder

MOST_BYTES = 15 * 1024 * 1024
MOST_PIXELS = 50_000_000
LONGEST_SIDE = 1600
QUALITY = 82
MOST_PHOTOS = 300
MOST_ON_PAPER = 12
LONGEST_CAPTION = 160
_FORMATS = (
    JpegImagePlugin.JpegImageFile.format,
    PngImagePlugin.PngImageFile.format,
    WebPImagePlugin.WebPImageFile.format,
)
_WANTED = "send a photo as JPEG, PNG or WebP"
# What the decoders raise on a file that is cut off or made to hurt.
_UNREADABLE = (
    *(OSError, SyntaxError, ValueError, TypeError, LookupError, ArithmeticError, AttributeError),
    *(EOFError, MemoryError, struct.error, zlib.error, Image.DecompressionBombError),
)


class BadPhoto(Refusal):
    """The upload is no picture that can be kept."""


@transaction.atomic
def add_photo(
    *, firm: Firm, job_id: int, upload: bytes, caption: str, at: datetime, by: User | None
) -> Photo:
    """Keep a picture of the job; the same one again is kept once. Raise BadPhoto or Http404."""
    words = _checked_caption(caption)
    contract = lock_contract(firm, job_id=job_id)
    small = shrink_photo(upload)
    jpeg = _as_jpeg(small)
    sha256 = hashlib.sha256(jpeg).hexdigest()
    known = Photo.objects.of(firm).filter(contract=contract)
    same: Photo | None = known.filter(sha256=sha256).first()
    if same is not None:
        return same
    if known.count() >= MOST_PHOTOS:
        raise BadPhoto(Problem("photo", f"A job keeps at most {MOST_PHOTOS} photos, and it has them."))
    photo: Photo = Photo.objects.create(
        firm=firm, contract=contract, jpeg=jpeg, width=small.width, height=small.height, sha256=sha256,
        caption=words, added_at=at, added_by=by,
    )  # fmt: skip
    subject = contract.job.number
    AuditLine.objects.create(
        firm=firm, at=at, by=by, action="added photo", subject=subject, detail={"sha256": sha256}
    )
    return photo


@transaction.atomic
def attach_photos(change: ChangeOrder, photo_ids: Iterable[int]) -> None:
    """Show more of the job's photos on a draft's paper. Raise BadPhoto; then none is attached."""
    wanted = set(photo_ids)
    if not change.is_draft:
        raise BadPhoto(Problem("photos", f"{change.number} was sent and stays as it is."))
    rows = Photo.objects.of(change.firm).filter(contract=change.contract_id, pk__in=wanted)
    found = set(rows.values_list("pk", flat=True))
    if found != wanted:
        raise BadPhoto(Problem("photos", "Choose among the photos of this job."))
    if len(found | set(change.photos.values_list("pk", flat=True))) > MOST_ON_PAPER:
        raise BadPhoto(Problem("photos", f"A change order shows at most {MOST_ON_PAPER} photos."))
    change.photos.add(*found)


@transaction.atomic
def detach_photo(change: ChangeOrder, photo_id: int) -> None:
    """Take a photo off a draft; the job keeps it. Raise BadPhoto."""
    if not change.is_draft:
        raise BadPhoto(Problem("photos", f"{change.number} was sent and stays as it is."))
    change.photos.remove(photo_id)


def shrink_photo(upload: bytes) -> Image.Image:
    """The picture alone: upright, at most 1600 pixels on its longer side. Raise BadPhoto.

    Size in pixels is read from the file's head and refused before anything is unpacked.
    """
    if not upload:
        raise BadPhoto(Problem("photo", f"The file is empty; {_WANTED}."))
    if len(upload) > MOST_BYTES:
        size = f"{len(upload) / 1024**2:.1f} MB; a photo may have {MOST_BYTES // 1024**2} MB"
        raise BadPhoto(Problem("photo", f"The file has {size}. Send it smaller."))
    try:
        with warnings.catch_warnings():
            # The limit below is lower than the library's own, which only warns.
            warnings.simplefilter("ignore")
            return _upright(upload)
    except UnidentifiedImageError:
        raise BadPhoto(Problem("photo", f"The file is not a picture that is read here; {_WANTED}.")) from None
    except _UNREADABLE:
        raise BadPhoto(Problem("photo", f"The picture is damaged or cut off; {_WANTED}.")) from None


def _upright(upload: bytes) -> Image.Image:
    with Image.open(BytesIO(upload), formats=_FORMATS) as picture:
        if picture.width * picture.height > MOST_PIXELS:
            size = f"{picture.width} × {picture.height} pixels"
            most = f"more than {MOST_PIXELS // 1_000_000} megapixels"
            raise BadPhoto(Problem("photo", f"The picture has {size}, {most}. Send it smaller."))
        if _is_cut_off(picture.format, upload):
            raise BadPhoto(Problem("photo", f"The picture is cut off; {_WANTED}."))
        picture.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
        turned = ImageOps.exif_transpose(picture)
        turned.thumbnail((LONGEST_SIDE, LONGEST_SIDE), Image.Resampling.LANCZOS)
        return _on_white(turned)


def _is_cut_off(kind: str | None, upload: bytes) -> bool:
    """Whether the end is missing. Asked here, since the PDF library lets the decoders fill it with grey."""
    if kind == "PNG":
        return upload.rfind(b"IEND") < upload.rfind(b"IDAT")
    if kind == "WEBP":
        return len(upload) < int.from_bytes(upload[4:8], "little") + 8
    # The end-of-image mark stands behind the last start of a scan; within a scan neither can occur.
    return upload.rfind(b"\xff\xd9") < upload.rfind(b"\xff\xda")


def _on_white(picture: Image.Image) -> Image.Image:
    """Drawn on a new sheet, which knows nothing of the file."""
    sheet = Image.new("RGB", picture.size, "white")
    if picture.has_transparency_data:
        clear = picture.convert("RGBA")
        sheet.paste(clear, mask=clear.getchannel("A"))
    else:
        sheet.paste(picture.convert("RGB"))
    return sheet


def _as_jpeg(picture: Image.Image) -> bytes:
    kept = BytesIO()
    picture.save(kept, "JPEG", quality=QUALITY, optimize=True)
    return kept.getvalue()


def _checked_caption(caption: str) -> str:
    words = " ".join(caption.split())
    if len(words) > LONGEST_CAPTION or not words.isprintable():
        wanted = f"Say what the photo shows in at most {LONGEST_CAPTION} plain characters."
        raise BadPhoto(Problem("caption", wanted))
    return words
