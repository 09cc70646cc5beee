"""Pictures on a paper: ours, from memory, for that paper only, and fit for an archive."""

from io import BytesIO

import pikepdf
import pytest
from PIL import Image

from quoting.documents.rendering import CannotRender, render_pdf
from tests.makers import AT

pytestmark = pytest.mark.slow

SHOWN = '<img src="picture:wall-1.jpg" alt="Rot behind the tub wall">'


def jpeg(colour: str = "#7a5230") -> bytes:
    """A small photo."""
    written = BytesIO()
    Image.new("RGB", (60, 40), colour).save(written, "JPEG")
    return written.getvalue()


def render(body: str, pictures: dict[str, bytes] | None = None) -> bytes:
    """A page with a picture as PDF."""
    html = f"<!doctype html><html lang='en'><title>Finding</title><body><h1>Finding</h1>{body}</body></html>"
    return render_pdf(html, paper="letter", at=AT, pictures=pictures)


def images_of(pdf: pikepdf.Pdf) -> list[pikepdf.Stream]:
    """The pictures in a file."""
    streams = (item for item in pdf.objects if isinstance(item, pikepdf.Stream))
    return [stream for stream in streams if stream.get("/Subtype") == "/Image"]


def test_a_paper_shows_our_picture_with_its_words():
    with pikepdf.open(BytesIO(render(SHOWN, {"wall-1.jpg": jpeg()}))) as pdf:
        (picture,) = images_of(pdf)
        figures = [item for item in pdf.objects if isinstance(item, pikepdf.Dictionary) and "/Alt" in item]

        assert (int(picture.Width), int(picture.Height)) == (60, 40)
        assert [str(figure.Alt) for figure in figures] == ["Rot behind the tub wall"]


def test_a_picture_is_not_smoothed_which_archives_forbid():
    with pikepdf.open(BytesIO(render(SHOWN, {"wall-1.jpg": jpeg()}))) as pdf:
        (picture,) = images_of(pdf)

        assert not picture.get("/Interpolate", False)


def test_without_our_style_it_would_be_smoothed():
    smooth = SHOWN.replace("<img", '<img style="image-rendering: auto"')

    with pikepdf.open(BytesIO(render(smooth, {"wall-1.jpg": jpeg()}))) as pdf:
        (picture,) = images_of(pdf)

        assert bool(picture.Interpolate)


def test_the_same_picture_gives_the_same_bytes_and_another_others():
    brown, again, green = (
        render(SHOWN, {"wall-1.jpg": jpeg(colour)}) for colour in ("#7a5230", "#7a5230", "#30527a")
    )

    assert brown == again != green


def test_a_picture_is_shown_on_its_own_paper_only():
    render(SHOWN, {"wall-1.jpg": jpeg()})

    with pytest.raises(CannotRender):
        render(SHOWN)
    with pytest.raises(CannotRender):
        render(SHOWN, {"wall-2.jpg": jpeg()})


@pytest.mark.parametrize("content", [b"", b"<svg xmlns='http://www.w3.org/2000/svg'/>", b"\x89PNG\r\n\x1a\n"])
def test_what_is_no_jpeg_is_refused_by_name(content):
    with pytest.raises(CannotRender, match=r"pictures: wall-1\.jpg must be a JPEG"):
        render(SHOWN, {"wall-1.jpg": content})


def test_a_broken_picture_leaves_no_silent_gap():
    with pytest.raises(CannotRender):
        render(SHOWN, {"wall-1.jpg": jpeg()[:20]})
