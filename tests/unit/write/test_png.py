"""Pictures: 96 px of CSS in an inch (CSS Values and Units 3); read back with Pillow."""

from __future__ import annotations

import io
import subprocess
import sys

import pytest
from fixtures.cut_pages import disc, page_of
from PIL import Image

from frameforge.write.marker import is_marked
from frameforge.write.png import CSS_PX_PER_MM, to_png
from frameforge.write.svg import to_svg

BOX = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="20mm" viewBox="0 0 40 20">'
    '<rect x="10" y="5" width="20" height="10" fill="#7a2140"/></svg>'
)


def _opened(data: bytes) -> Image.Image:
    """Return the picture."""
    return Image.open(io.BytesIO(data)).convert("RGB")


def test_a_millimetre_has_as_many_pixels_as_asked() -> None:
    picture = _opened(to_png(BOX, px_per_mm=10))
    assert picture.size == (400, 200)
    assert picture.getpixel((101, 51)) == (0x7A, 0x21, 0x40)
    assert picture.getpixel((98, 51)) == (255, 255, 255)
    assert picture.getpixel((298, 148)) == (0x7A, 0x21, 0x40)


def test_at_the_scale_of_css_a_px_is_a_px() -> None:
    svg = '<svg xmlns="http://www.w3.org/2000/svg" width="620" height="300" viewBox="0 0 620 300"/>'
    assert _opened(to_png(svg, px_per_mm=CSS_PX_PER_MM)).size == (620, 300)


def test_a_cut_file_can_be_seen() -> None:
    picture = _opened(to_png(to_svg(page_of(disc(10))), px_per_mm=20))
    assert picture.size == (420, 420)
    assert min(picture.getpixel((x, 210))[0] for x in range(5, 16)) < 60  # type: ignore[index]


def test_same_picture_same_bytes_and_marked() -> None:
    assert to_png(BOX, px_per_mm=4) == to_png(BOX, px_per_mm=4)
    assert is_marked(to_png(BOX, px_per_mm=4))


def test_words_are_set_in_the_font_that_travels_with_us() -> None:
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="100" height="40" viewBox="0 0 100 40">'
        '<text x="5" y="30" font-size="24" font-family="Overpass">seal</text></svg>'
    )
    picture = _opened(to_png(svg, px_per_mm=CSS_PX_PER_MM))
    assert picture.getextrema()[0][0] < 60  # type: ignore[index]


@pytest.mark.parametrize(
    "svg",
    [
        "no svg",
        BOX.replace('width="40mm"', ""),
        BOX.replace("20mm", "20em"),
        BOX.replace('viewBox="0 0 40 20"', ""),
        BOX.replace("</svg>", ""),
    ],
)
def test_what_states_no_size_or_is_no_svg_is_refused(svg: str) -> None:
    with pytest.raises(ValueError):
        to_png(svg, px_per_mm=4)


def test_the_renderer_is_imported_only_when_a_picture_is_made() -> None:
    code = "import sys, frameforge.write.png; print('resvg_py' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "False\n"
