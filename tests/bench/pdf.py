"""What making the quote's PDF costs, beside a bare call of the PDF library on the same page.

Comes in: how many lines the quote has. Goes out: the figures of `measure_pdf`. Times are CPU seconds of this
process, medians of interleaved runs: wall clock would measure the neighbours.
"""

import gc
import multiprocessing
import resource
from collections.abc import Callable
from functools import cache
from statistics import median
from time import process_time

from quoting.documents.fonts import FACES
from quoting.documents.paper import render_html
from quoting.documents.rendering import render_pdf, style_text
from tests.bench.sample_quote import AT, sample_context


def sample_html(lines: int, *, line_amounts: bool = False) -> str:
    """The quote paper as HTML, as firms start with: amounts a phase; or with an amount on every line."""
    context = sample_context(lines)
    context["quote"]["show_line_amounts"] = line_amounts
    return render_html("documents/quote.html", context)


def our_call(html: str) -> bytes:
    """As the service makes it: archival, accessible, checked."""
    return render_pdf(html, paper="letter", at=AT)


def bare_call(html: str) -> bytes:
    """The library alone: one page with its style and font files, made afresh, no variant, no checks."""
    from weasyprint import HTML

    return bytes(
        HTML(string=html.replace("</head>", f"<style>{_plain_style()}</style></head>", 1)).write_pdf()
    )


@cache
def _plain_style() -> str:
    """The style sheet with its fonts as files, for the library's own fetcher."""
    style = style_text("letter")
    for face in FACES:
        style = style.replace(face.address, face.path.as_uri())
    return style


def cpu_seconds(call: Callable[[str], bytes], html: str) -> float:
    """CPU seconds of one call, which does not pay for the garbage of the call before it."""
    gc.collect()
    begin = process_time()
    call(html)
    return process_time() - begin


def measure_side_by_side(html: str, runs: int) -> tuple[float, float]:
    """Median CPU seconds of our call and of the bare one, taken in turn after one warm-up each."""
    our_call(html), bare_call(html)
    pairs = [(cpu_seconds(our_call, html), cpu_seconds(bare_call, html)) for _ in range(runs)]
    return median(ours for ours, _ in pairs), median(bare for _, bare in pairs)


def _report_peak(lines: int, to: "multiprocessing.connection.Connection") -> None:
    import django

    django.setup()
    our_call(sample_html(lines))
    to.send(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)


def peak_mb(lines: int) -> float:
    """Peak memory in MB of a process of its own that makes one quote."""
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(target=_report_peak, args=(lines, theirs))
    process.start()
    theirs.close()
    try:
        return float(ours.recv())
    finally:
        process.join()


def measure_pdf(runs: int = 9) -> dict[str, float]:
    """Every figure of the PDF: seconds of CPU, the ratio to the bare call, kB and MB."""
    ours, bare = measure_side_by_side(sample_html(40), runs)
    ours_lines, bare_lines = measure_side_by_side(sample_html(40, line_amounts=True), runs)
    large = sample_html(600)
    large_lines = sample_html(600, line_amounts=True)
    return {
        "pdf_s": round(ours, 3),
        "pdf_vs_bare": round(ours / bare, 3),
        "pdf_600_lines_s": round(median(cpu_seconds(our_call, large) for _ in range(3)), 2),
        "pdf_line_amounts_s": round(ours_lines, 3),
        "pdf_line_amounts_vs_bare": round(ours_lines / bare_lines, 3),
        "pdf_600_line_amounts_s": round(cpu_seconds(our_call, large_lines), 2),
        "pdf_kb": round(len(our_call(sample_html(40))) / 1024, 1),
        "peak_mb": round(peak_mb(600), 1),
    }
