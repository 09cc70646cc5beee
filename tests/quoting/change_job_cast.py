"""A job of the hall bath with its contract, a template for what is found, and photos to send."""

from datetime import datetime
from io import BytesIO
from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client as Browser
from PIL import Image

from labour.firm.models import User
from labour.plan.services import load_templates
from quoting.agree.models import Contract
from quoting.change.drafts import ChangeDraft
from quoting.change.links import make_change_link, send_to_client
from quoting.change.models import ChangeLink, ChangeOrder
from quoting.change.services import raise_change_order
from tests.hall_bath import MATERIALS, ROOM, TASKS
from tests.quoting.agree_cast import SIGNED, accept, send_offer
from tests.quoting.change_cast import ROT

FOUND = "The floor is soft around the toilet."
SITE = "https://office.example.com/"


def make_job(name: str = "Harbor Lane Baths") -> tuple[Contract, User]:
    """The accepted hall bath, in a firm with a template for rot; and the owner."""
    quote, owner = send_offer(name)
    codes = {material.code for material in MATERIALS}
    load_templates(firm=quote.firm, templates=[ROT], items=codes, tasks={task.code: task for task in TASKS})
    return accept(quote), owner


def rot_line(area: str = "12 sq ft") -> dict[str, str]:
    return {"kind": "template", "room": ROOM, "template": ROT.slug, "area": area}


def raise_change(contract: Contract, *lines: dict[str, str], **changed: Any) -> ChangeOrder:
    """A draft: rot on 12 sq ft unless other lines are given."""
    words = {"title": "Rot at the toilet", "reason": "rot", "finding": FOUND} | changed
    draft = ChangeDraft(lines=list(lines) or [rot_line()], **words)
    return raise_change_order(
        firm=contract.firm, job_id=contract.job_id, draft=draft, ticket="", at=SIGNED, by=None
    )


def send_change(change: ChangeOrder, at: datetime = SIGNED) -> ChangeLink:
    """The client's link of a change order that was sent."""
    return send_to_client(firm=change.firm, change_id=change.pk, address=SITE, at=at, by=None)


def renew_link(change: ChangeOrder, at: datetime) -> ChangeLink:
    """Another link."""
    return make_change_link(firm=change.firm, change_id=change.pk, at=at, by=None)


def picture(size: tuple[int, int] = (40, 30), kind: str = "JPEG") -> bytes:
    """A picture of one colour."""
    kept = BytesIO()
    Image.new("RGB", size, "brown").save(kept, kind)
    return kept.getvalue()


def photo_file(name: str = "rot.jpg", content: bytes | None = None) -> SimpleUploadedFile:
    """A picture as a browser sends it."""
    return SimpleUploadedFile(name, picture() if content is None else content, "image/jpeg")


def browser_for(user: User) -> Browser:
    """A browser in which the user is logged in."""
    browser = Browser()
    browser.force_login(user)
    return browser
