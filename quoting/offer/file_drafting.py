"""A rooms file that was uploaded or pasted, on its way to a quote."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.conf import settings
from django.core.files.uploadedfile import UploadedFile
from django.http import QueryDict

from labour.engine.refusal import Problem, Refusal
from labour.firm.models import Firm, User
from quoting.engine.measure.rooms_file import load_document, read_rooms
from quoting.offer.models import Quote
from quoting.offer.rooms_quote import quote_rooms_file
from quoting.offer.services import QuoteDraft
from quoting.takeoff.queries import ScopeChoice


class BadUpload(Refusal):
    """The file can not be taken."""


@dataclass(frozen=True, slots=True)
class PostedFile:
    """What was posted: a file goes before pasted text."""

    firm: Firm
    title: str
    template: str
    text: str
    file: "UploadedFile[Any] | None"

    @property
    def fields(self) -> dict[str, object]:
        """What the page shows again."""
        return {"title": self.title, "template": self.template, "text": self.text}

    def make_quote(self, *, at: datetime, by: User | None) -> Quote:
        """Read the rooms and make the quote. Refuses with every problem named."""
        rooms = read_rooms(load_document(self._content()))
        draft = QuoteDraft(self.title, rooms, ScopeChoice(self.template))
        return quote_rooms_file(firm=self.firm, draft=draft, at=at, by=by)

    def _content(self) -> bytes | str:
        limit = settings.ROOMS_FILE_LIMIT
        if self.file is None:
            if not self.text.strip():
                raise BadUpload(Problem("file", "Choose a rooms file, or paste its text."))
            return self.text
        if (self.file.size or 0) > limit:
            raise BadUpload(Problem("file", f"The file has {self.file.size:,} bytes; {limit:,} is the most."))
        return bytes(self.file.read())


def read_posted_file(firm: Firm, post: QueryDict, file: "UploadedFile[Any] | None") -> PostedFile:
    """The posted page."""
    return PostedFile(
        firm, post.get("title", "").strip(), post.get("template", ""), post.get("text", ""), file
    )
