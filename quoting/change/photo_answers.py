"""A kept photo as an answer: for the firm's own pages, the API, and the client's."""

from django.http import HttpResponse

from quoting.agree.models import Photo


def photo_answer(row: Photo) -> HttpResponse:
    """The photo's bytes, which a browser must not take for anything else."""
    answer = HttpResponse(bytes(row.jpeg), content_type="image/jpeg")
    answer["X-Content-Type-Options"] = "nosniff"
    answer["Content-Disposition"] = f'inline; filename="photo-{row.pk}.jpg"'
    answer["Cache-Control"] = "private, max-age=3600"
    return answer
