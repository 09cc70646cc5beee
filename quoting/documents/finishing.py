"""Writes every object of a PDF once. Import only where a paper is made: it loads the PDF library.

The library turns all objects into bytes twice, for the file and again for its identifier; a tagged paper
has a thousand of them. The bytes of the file stay the same.
"""

from typing import Any

import pydyf


class _Written(pydyf.Object):  # type: ignore[misc]
    """An object with its bytes already made."""

    data = b""
    compressible = False

    def __init__(self, source: Any) -> None:
        super().__init__()
        self.number, self.generation = source.number, source.generation
        self.data, self.compressible = source.data, source.compressible


def write_objects_once(_document: Any, pdf: Any) -> None:
    """Replace the finished objects of a PDF by their bytes; the `finisher` of `write_pdf`."""
    pdf.objects = [item if item.free == "f" else _Written(item) for item in pdf.objects]
