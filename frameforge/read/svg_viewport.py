"""Viewports: viewBox and preserveAspectRatio as maps, the page in millimetres."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final
from xml.etree.ElementTree import Element

from frameforge.errors import InputError
from frameforge.geometry.affine import Affine
from frameforge.read.path_grammar import scan_numbers
from frameforge.read.svg_notes import one_line
from frameforge.read.svg_units import MM_PER_PX, length_mm

__all__ = ["Page", "Rectangle", "fit_view_box", "read_page", "read_view_box"]

Rectangle = tuple[float, float, float, float]
"""Left, top, width, height in user units, y down."""

_BROWSER_MM: Final = (300.0 * MM_PER_PX, 150.0 * MM_PER_PX)
"""Size CSS gives a replaced element without any size; percentages need some value."""

_LEAST_SIDE: Final = 1e-6
_SHARES: Final = {"min": 0.0, "mid": 0.5, "max": 1.0}


@dataclass(frozen=True, slots=True)
class Page:
    """The drawing's page: ``width_mm`` and ``height_mm`` (None where it states no size), the map to millimetres.

    ``to_mm`` takes user units of the root, y down, to millimetres, y up, the page's lower left corner at 0 (its upper
    left corner where it has no height). ``view`` is what the page shows, in user units.
    """

    width_mm: float | None
    height_mm: float | None
    to_mm: Affine
    view: Rectangle
    is_bounded: bool


def read_view_box(text: str | None) -> Rectangle | None:
    """Return the four numbers of a viewBox, or None where there is none that can be used."""
    if text is None:
        return None
    numbers, fault = scan_numbers(text)
    if fault is not None or len(numbers) != 4 or min(numbers[2:]) < _LEAST_SIDE:
        return None
    return numbers[0], numbers[1], numbers[2], numbers[3]


def fit_view_box(view: Rectangle, width: float, height: float, ratio: str | None) -> Affine:
    """Return the map that puts ``view`` into a viewport of this size at 0, 0 (SVG 2 section 8.2).

    ``ratio`` is a preserveAspectRatio value; what cannot be read counts as xMidYMid meet.
    """
    words = (ratio or "").replace("defer", " ").split()
    scale_x, scale_y = width / view[2], height / view[3]
    if words[:1] == ["none"]:
        return Affine.from_matrix(scale_x, 0, 0, scale_y, -view[0] * scale_x, -view[1] * scale_y)
    align = words[0] if words and len(words[0]) == 8 else "xMidYMid"
    share_x, share_y = _SHARES.get(align[1:4].lower(), 0.5), _SHARES.get(align[5:8].lower(), 0.5)
    scale = max(scale_x, scale_y) if words[1:2] == ["slice"] else min(scale_x, scale_y)
    left = (width - view[2] * scale) * share_x - view[0] * scale
    top = (height - view[3] * scale) * share_y - view[1] * scale
    return Affine.from_matrix(scale, 0, 0, scale, left, top)


def read_page(root: Element, *, where: str) -> Page:
    """Return the page of the root element.

    A width or height of 0 or less is refused with InputError; one alone takes its fellow from the viewBox; a
    percentage or none at all is a drawing without a size, of which a user unit is a pixel.
    """
    width, height = (_stated(root, name, where) for name in ("width", "height"))
    view = read_view_box(root.get("viewBox"))
    if view is not None and width is not None and height is None:
        height = width * view[3] / view[2]
    elif view is not None and height is not None and width is None:
        width = height * view[2] / view[3]
    across, down = width or _BROWSER_MM[0], height or _BROWSER_MM[1]
    if view is None:
        shown = (0.0, 0.0, across / MM_PER_PX, down / MM_PER_PX)
    else:
        shown = view
        if width is None or height is None:
            across, down = view[2] * MM_PER_PX, view[3] * MM_PER_PX
    to_page = fit_view_box(shown, across, down, root.get("preserveAspectRatio"))
    flip = Affine.from_matrix(1, 0, 0, -1, 0, down if height is not None or view is not None else 0)
    is_bounded = view is not None or (width is not None and height is not None)
    return Page(width, height, flip.after(to_page), shown, is_bounded)


def _stated(root: Element, name: str, where: str) -> float | None:
    """Return the page's width or height in mm, or None where it is not stated as a length."""
    text = root.get(name)
    value = length_mm(text) if text else None
    if value is not None and value <= 0:
        raise InputError(
            f'the page\'s {name} is "{one_line(str(text))}", it must be above 0. '
            "Set the size of the page and save the drawing again.",
            where=where, code="no-size", found=value,
        )  # fmt: skip
    return value
