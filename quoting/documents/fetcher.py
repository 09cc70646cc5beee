"""What a paper may load while it is made: the bundled fonts and its own pictures, from memory, no more.

Import this module only where a paper is made: it loads WeasyPrint.
"""

from collections.abc import Mapping

from weasyprint.urls import URLFetcher, URLFetcherResponse

from quoting.documents.fonts import read_fonts


class OnlyBundled(URLFetcher):  # type: ignore[misc]
    """Serves the bundled fonts, and the pictures of one paper; refuses any other address of any scheme.

    pictures: JPEGs by name; a paper shows them as "picture:<name>".
    """

    def __init__(self, pictures: Mapping[str, bytes] | None = None) -> None:
        super().__init__(allowed_protocols=(), allow_redirects=False, fail_on_errors=False)
        fonts = {address: (content, "font/ttf") for address, content in read_fonts().items()}
        shown = {f"picture:{name}": (content, "image/jpeg") for name, content in (pictures or {}).items()}
        self._files = fonts | shown

    def fetch(self, url: str, headers: object = None) -> URLFetcherResponse:
        """The font or picture of this address. ValueError for anything else."""
        if url not in self._files:
            raise ValueError(f"papers load nothing from outside: {url[:80]}")
        content, kind = self._files[url]
        return URLFetcherResponse(url, content, {"Content-Type": kind})
