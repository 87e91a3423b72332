"""A motif as a drawing of its own, with its parts, foot and axis stated: how the catalogue's files are written.

Millimetres, one path an outline (one with its islands, where a window has some), the foot line on y = 0, no transform.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final
from xml.sax.saxutils import escape

from frameforge.geometry.affine import Affine
from frameforge.geometry.box import Box
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif
from frameforge.picture.path_text import number_text, region_text
from frameforge.write.marker import BLANK_MARKER, marked_text

__all__ = ["motif_text"]

_DECIMALS: Final = 6
"""Finer than a cut file's, since a motif may be made larger."""
_MARGIN_MM: Final = 1.0
_FILLS: Final = {"cut-away": "#C3CCC9", "join": "#74844A", "window": "#1E2A2C"}
"""The parts in the order in which they are painted, with colours to tell them apart; reading takes no notice."""
_DOWN: Final = Affine.from_matrix(1, 0, 0, -1, 0, 0)


def motif_text(motif: Motif, title: str, description: str) -> str:
    """Return the motif as SVG text that is read back as the same parts, foot and axis, our marker on its last line.

    Coordinates are rounded to 1e-6 mm; curves stay what they are, arcs in quarters. Same motif, same text.
    """
    parts = {"cut-away": motif.cut_away, "join": motif.join, "window": motif.window}
    half = motif.foot_mm / 2
    whole = bounds([region for regions in parts.values() for region in regions])
    page = whole.union(Box.from_points((-half, half))).grown(_MARGIN_MM)
    width, height = _number(page.width_mm), _number(page.height_mm)
    view = " ".join(map(_number, (page.left, -page.top, page.width_mm, page.height_mm)))
    groups = [line for part, regions in parts.items() if regions for line in _group(part, regions)]
    return marked_text("\n".join([
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" viewBox="{view}">',
        f"  <title>{escape(title)}</title>",
        f"  <desc>{escape(description)}</desc>",
        *groups,
        '  <g id="guides" fill="none" stroke="none">',
        f'    <line id="foot" x1="{_number(-half)}" y1="0" x2="{_number(half)}" y2="0"/>',
        f'    <line id="axis" x1="0" y1="0" x2="0" y2="{_number(-max(whole.top, 1.0))}"/>',
        "  </g>",
        "</svg>",
        f"<!-- {BLANK_MARKER} -->",
        "",
    ]))  # fmt: skip


def _group(part: str, regions: Iterable[Region]) -> list[str]:
    """Return the lines of one part."""
    paths = [
        f'    <path fill-rule="evenodd" d="{region_text([region.transformed(_DOWN)], _DECIMALS)}"/>'
        for region in regions
    ]
    return [f'  <g id="{part}" fill="{_FILLS[part]}">', *paths, "  </g>"]


def _number(value: float) -> str:
    return number_text(value, _DECIMALS)
