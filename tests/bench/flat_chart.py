"""The chart of the docs: bathrooms by how far a flat allowance misses come in; SVG goes out.

It stands by itself, so that it brings its paper: dark where the reader's page is dark.
"""

from collections.abc import Iterator, Sequence

from labour.engine.charts import Bar, bars
from tests.bench.takeoff import BAND, BATHROOMS, FARTHEST

type Bands = Sequence[tuple[int, int]]
"""Lower end in percent, bathrooms."""

_PAPER = (
    "<style>svg{color:#1b1b1b}.paper{fill:#ffffff}"
    "@media (prefers-color-scheme:dark){svg{color:#ececec}.paper{fill:#15181c}}</style>"
    '<rect class="paper" x="-12" y="-10" width="464" height="100%" fill="#ffffff" />'
)


def draw_bands(trade: Bands, fewest: Bands) -> str:
    """Where net area and 10 % falls short a bar is hatched and goes left; where it is enough it goes right.

    trade, fewest: against starts by the trade, and against those of the fewest tiles.
    """
    short = [sum(number for low, number in bands if low < 0) for bands in (trade, fewest)]
    svg = bars(
        [*_rows("By the trade", trade), *_rows("Fewest tiles", fewest)],
        title="Net area and 10 % against tiles laid out",
        description=f"{BATHROOMS} random bathrooms by how far net area and 10 % is from the tiles they need. "
        f"It falls short in {short[0]} where tiles start by the trade, in {short[1]} where they start "
        "for the fewest tiles.",
        unit="Bathrooms. Hatched, left: too few tiles. Solid, right: enough.",
    )
    return _on_paper(svg)


def _rows(start: str, bands: Bands) -> Iterator[Bar]:
    for low, number in bands:
        yield Bar(f"{start}: {_words(low)}", -number if low < 0 else number, f"{number} of {BATHROOMS}")


def _words(low: int) -> str:
    if low < 0:
        return (
            f"{-low - BAND}–{-low} % too few" if low > -FARTHEST else f"{FARTHEST - BAND} % too few or more"
        )
    return f"{low}–{low + BAND} % too many" if low < FARTHEST else f"{FARTHEST} % too many or more"


def _on_paper(svg: str) -> str:
    """With paper behind it and a margin around it."""
    head, tail = svg.split("</desc>", 1)
    across, high = head.split('viewBox="0 0 ', 1)[1].split('"', 1)[0].split()
    box = f'viewBox="-12 -10 {float(across) + 24:g} {float(high) + 20:g}"'
    head = head.replace(f'viewBox="0 0 {across} {high}"', box)
    return f"{head}</desc>{_PAPER.replace('100%', f'{float(high) + 20:g}')}{tail}\n"
