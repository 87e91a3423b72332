"""The few SVG elements our pictures are made of, as text. Positions in px, y down, from the upper left corner."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from xml.sax.saxutils import escape

from frameforge.geometry.affine import Affine
from frameforge.geometry.outline import Segment
from frameforge.geometry.region import Region
from frameforge.picture.letter_widths import text_width
from frameforge.picture.look import BENCH, DRY_SLATE, EDGE_PX, FLEECE, FONT_FAMILY, TEXT_PX, WET_SLATE
from frameforge.picture.path_text import number_text, open_text, region_text

__all__ = ["BAR_MM", "bar", "bar_width", "card", "crease_lines", "line", "loose_lines", "mm_to_px", "page", "text"]

BAR_MM = 50.0
"""The one measure that every picture carries."""


def page(width_px: float, height_px: float, title: str, what: str, body: Iterable[str]) -> str:
    """Return the whole SVG text: a plain bench with ``body`` on it, a title and a sentence for screen readers.

    The page takes whole pixels, so that its picture does too.
    """
    w, h = str(math.ceil(width_px)), str(math.ceil(height_px))
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{w}" height="{h}" viewBox="0 0 {w} {h}" role="img" '
        f'font-family="{FONT_FAMILY}">',
        f"<title>{_safe(title)}</title>",
        f"<desc>{_safe(what)}</desc>",
        f'<rect width="{w}" height="{h}" fill="{BENCH}"/>',
    )
    return "\n".join((*head, *body, "</svg>", ""))


def text(
    at: complex, words: str, *, size_px: float = TEXT_PX, is_bold: bool = False, fill: str = WET_SLATE,
    anchor: str = "start",
) -> str:  # fmt: skip
    """Return one line of text on its baseline; ``anchor`` is start, middle or end."""
    weight = 700 if is_bold else 400
    return (
        f'<text x="{number_text(at.real, 2)}" y="{number_text(at.imag, 2)}" font-size="{number_text(size_px, 1)}" '
        f'font-weight="{weight}" fill="{fill}" text-anchor="{anchor}">{_safe(words)}</text>'
    )


def line(start: complex, end: complex, *, stroke: str, width_px: float, dashes: str = "") -> str:
    """Return one straight line; ``dashes`` as in stroke-dasharray, empty for a full line."""
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    x1, y1, x2, y2 = (number_text(v, 2) for v in (start.real, start.imag, end.real, end.imag))
    return (
        f'<path d="M {x1} {y1} L {x2} {y2}" fill="none" stroke="{stroke}" '
        f'stroke-width="{number_text(width_px, 2)}"{dashed}/>'
    )


def card(regions: Iterable[Region], to_px: Affine, fill: str) -> str:
    """Return the regions as card with a thin slate edge; holes show what lies below."""
    path = region_text(region.transformed(to_px) for region in regions)
    return (
        f'<path d="{path}" fill="{fill}" fill-rule="evenodd" stroke="{WET_SLATE}" '
        f'stroke-width="{number_text(EDGE_PX, 2)}" stroke-linejoin="round"/>'
    )


def loose_lines(lines: Iterable[Sequence[Segment]], to_px: Affine) -> tuple[str, ...]:
    """Return lines that bound no card, as thin as its edge; none where there is none."""
    path = " ".join(open_text([segment.transformed(to_px) for segment in run]) for run in lines)
    width = number_text(EDGE_PX, 2)
    return (f'<path d="{path}" fill="none" stroke="{WET_SLATE}" stroke-width="{width}"/>',) if path else ()


def crease_lines(lines: Iterable[Sequence[Segment]], to_px: Affine) -> tuple[str, ...]:
    """Return lines along which the card bends: slate dashes in a light casing; none where there is none."""
    path = " ".join(open_text([segment.transformed(to_px) for segment in run]) for run in lines)
    if not path:
        return ()
    cased = f'<path d="{path}" fill="none" stroke="{FLEECE}" stroke-width="{number_text(3 * EDGE_PX, 2)}"/>'
    inner = (
        f'<path d="{path}" fill="none" stroke="{WET_SLATE}" stroke-width="{number_text(EDGE_PX, 2)}" '
        f'stroke-dasharray="6 4"/>'
    )
    return cased, inner


def bar(right_px: float, baseline_px: float, px_per_mm: float) -> tuple[str, ...]:
    """Return the 50 mm bar, its right end at ``right_px``, its measure to the left of it on the same baseline."""
    middle = baseline_px - TEXT_PX * 0.33
    left = right_px - BAR_MM * px_per_mm
    ends = (
        line(complex(x, middle - 4), complex(x, middle + 4), stroke=WET_SLATE, width_px=1.5) for x in (left, right_px)
    )
    return (
        text(complex(left - 10, baseline_px), f"{BAR_MM:.0f} mm", fill=DRY_SLATE, anchor="end"),
        line(complex(left, middle), complex(right_px, middle), stroke=WET_SLATE, width_px=1.5),
        *ends,
    )


def bar_width(px_per_mm: float) -> float:
    """Return the width in px of the 50 mm bar with its measure."""
    return BAR_MM * px_per_mm + 10 + text_width(f"{BAR_MM:.0f} mm", TEXT_PX)


def mm_to_px(px_per_mm: float, origin_px: complex, origin_mm: complex = 0) -> Affine:
    """Return the map from mm, y up, to px, y down, that puts ``origin_mm`` at ``origin_px``."""
    turned = Affine.from_matrix(px_per_mm, 0, 0, -px_per_mm, 0, 0)
    return Affine(turned.a, turned.b, origin_px - turned.apply(origin_mm))


def _safe(words: str) -> str:
    """Return the words for XML, signs that XML 1.0 forbids (section 2.2, Char) left out."""
    return escape("".join(sign for sign in words if sign in "\t\n\r" or _is_char(ord(sign))))


def _is_char(code: int) -> bool:
    """Return whether XML 1.0 allows the code point (control signs below space are handled by the caller)."""
    return 0x20 <= code <= 0xD7FF or 0xE000 <= code <= 0xFFFD or 0x10000 <= code <= 0x10FFFF
