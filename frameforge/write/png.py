"""PNG pictures of SVG texts, by resvg with the fonts that travel with the package: the same on every machine."""

from __future__ import annotations

from importlib.resources import files

from frameforge.units import INCH_MM
from frameforge.write.marker import marked_png

__all__ = ["CSS_PX_PER_MM", "to_png"]

CSS_PX_PER_MM = 96 / INCH_MM
"""Pixels of CSS in a millimetre (CSS Values and Units 3, absolute lengths): at this scale a px of the SVG is a px."""


def to_png(svg: str, *, px_per_mm: float, background: str = "#ffffff") -> bytes:
    """Return the SVG text as a PNG of ``px_per_mm`` pixels a millimetre (above 0), our marker inside.

    Raises ValueError when the text is no SVG or the picture would have no pixel.
    """
    import resvg_py  # here, since most runs make no picture

    fonts = [
        str(font) for font in files("frameforge.picture").joinpath("fonts").iterdir() if font.name.endswith(".ttf")
    ]
    data = resvg_py.svg_to_bytes(
        svg_string=svg,
        background=background,
        skip_system_fonts=True,
        font_files=sorted(fonts),
        dpi=96,
        zoom=px_per_mm / CSS_PX_PER_MM,
    )
    return marked_png(bytes(data))
