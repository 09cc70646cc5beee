"""A paper as the answer to a request."""

from typing import Any

from django.http import HttpResponse

PDF_ROUTE: dict[str, Any] = {"responses": {200: {"content": {"application/pdf": {}}}}}
"""How the API's description names a route that answers with a paper."""


def pdf_answer(pdf: bytes | memoryview, name: str) -> HttpResponse:
    """A paper, to be read in the browser."""
    answer = HttpResponse(bytes(pdf), content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{name}.pdf"'
    return answer
