"""PNG pictures of SVG texts, by resvg with the fonts that travel with the package: the same on every machine."""

from __future__ import annotations

import re
from importlib.resources import files
from typing import Final

from frameforge.units import INCH_MM
from frameforge.write.marker import marked_png

__all__ = ["CSS_PX_PER_MM", "to_png"]

CSS_PX_PER_MM: Final = 96 / INCH_MM
"""Pixels of CSS in a millimetre (CSS Values and Units 3, absolute lengths): at this scale a px of the SVG is a px."""

_UNIT_MM: Final = {"mm": 1.0, "px": 1 / CSS_PX_PER_MM, "": 1 / CSS_PX_PER_MM}
_ROOT: Final = re.compile(r"<svg\b[^>]*>")
_SIDE: Final = re.compile(r'(?<=\s)(width|height)="([0-9.]+)(mm|px|)"')


def to_png(svg: str, *, px_per_mm: float, background: str = "#ffffff") -> bytes:
    """Return the SVG text as a PNG of ``px_per_mm`` pixels a millimetre (above 0), our marker inside.

    The SVG must state a viewBox, and its width and height in mm or px; they come out rounded to whole pixels.
    Raises ValueError when it does not, when the text is no SVG or the picture would have no pixel.
    """
    import resvg_py  # here, since most runs make no picture

    fonts = [font for font in files("frameforge.picture").joinpath("fonts").iterdir() if font.name.endswith(".ttf")]
    data = resvg_py.svg_to_bytes(
        svg_string=_sized(svg, px_per_mm),
        background=background,
        skip_system_fonts=True,
        font_files=sorted(str(font) for font in fonts),
        dpi=96,
    )
    return marked_png(bytes(data))


def _sized(svg: str, px_per_mm: float) -> str:
    """Return the SVG with its width and height in whole pixels.

    resvg's own scaling starts from the size rounded up to pixels at 96 dpi, which stretches small drawings.
    """
    root = _ROOT.search(svg)
    sides = _SIDE.findall(root[0]) if root else []
    if root is None or {side for side, _, _ in sides} != {"width", "height"} or "viewBox=" not in root[0]:
        raise ValueError("the SVG states no viewBox, or no width and height in mm or px")
    tag = _SIDE.sub(lambda m: f'{m[1]}="{round(float(m[2]) * _UNIT_MM[m[3]] * px_per_mm)}"', root[0])
    return svg[: root.start()] + tag + svg[root.end() :]
