"""What a paper may load while it is made: the bundled fonts, from memory, and nothing else.

Import this module only where a paper is made: it loads WeasyPrint.
"""

from weasyprint.urls import URLFetcher, URLFetcherResponse

from quoting.documents.fonts import read_fonts


class OnlyBundled(URLFetcher):  # type: ignore[misc]
    """Serves the bundled fonts; refuses every other address, whatever its scheme."""

    def __init__(self) -> None:
        super().__init__(allowed_protocols=(), allow_redirects=False, fail_on_errors=False)
        self._files = read_fonts()

    def fetch(self, url: str, headers: object = None) -> URLFetcherResponse:
        """The font of this address. ValueError for anything else."""
        if url not in self._files:
            raise ValueError(f"papers load nothing from outside: {url[:80]}")
        return URLFetcherResponse(url, self._files[url], {"Content-Type": "font/ttf"})
