"""Where markers (arrow heads, dots) sit on a path and how they are turned (SVG 2 section 11.6)."""

from __future__ import annotations

import cmath
import itertools
import math
from collections.abc import Mapping
from xml.etree.ElementTree import Element

from frameforge.geometry.affine import IDENTITY, Affine
from frameforge.geometry.outline import Segment
from frameforge.read.svg_curves import Subpath
from frameforge.read.svg_style import Style
from frameforge.read.svg_transform import read_angle
from frameforge.read.svg_units import length
from frameforge.read.svg_viewport import fit_view_box, read_view_box

__all__ = ["marker_map", "marker_places", "marker_view"]

_PORTIONS = {"left": 0.0, "top": 0.0, "center": 0.5, "right": 1.0, "bottom": 1.0}


def marker_places(subpaths: tuple[Subpath, ...]) -> list[tuple[str, complex, float]]:
    """Return (which, vertex, direction in rad) of every vertex; ``which`` is start, mid or end, y down.

    The direction at a vertex halves the turn from the incoming to the outgoing curve; at the ends of an open path it
    is that of the one curve there.
    """
    places: list[tuple[str, complex, float]] = []
    for subpath in subpaths:
        segments = subpath.segments
        if not segments:
            places.append(("mid", subpath.start, 0.0))
            continue
        first, last = _leaving(segments[0]), _arriving(segments[-1])
        joint = _between(last, first) if subpath.is_closed else None
        places.append(("mid", subpath.start, cmath.phase(first) if joint is None else joint))
        for before, after in itertools.pairwise(segments):
            places.append(("mid", before.end, _between(_arriving(before), _leaving(after))))
        places.append(("mid", segments[-1].end, cmath.phase(last) if joint is None else joint))
    if places:
        places[0] = ("start", *places[0][1:])
        places.append(("end", *places[-1][1:]))
        if len(places) > 2:
            del places[-2]
    return places


def marker_view(marker: Element, style: Style, viewport: complex) -> tuple[float, float, Affine]:
    """Return width and height of a marker's viewport (its own units), and the map from its content into it."""
    width, height = (
        length(marker.get(name, "3"), whole=whole, font_px=style.font_px) or 0.0
        for name, whole in (("markerWidth", viewport.real), ("markerHeight", viewport.imag))
    )
    view = read_view_box(marker.get("viewBox"))
    if view is None or width <= 0 or height <= 0:
        return width, height, IDENTITY
    return width, height, fit_view_box(view, width, height, marker.get("preserveAspectRatio"))


def marker_map(
    marker: Element, place: tuple[str, complex, float], stroke_width: float, inner: Affine, style: Style
) -> Affine:
    """Return the map from a marker's viewport to the user units of its path; ``inner`` is that of ``marker_view``."""
    which, vertex, direction_rad = place
    orient = marker.get("orient", "0").strip()
    if orient == "auto-start-reverse" and which == "start":
        direction_rad += math.pi
    elif not orient.startswith("auto"):
        direction_rad = math.radians(read_angle(orient))
    scale = 1.0 if marker.get("markerUnits") == "userSpaceOnUse" else stroke_width
    view = read_view_box(marker.get("viewBox")) or (0.0, 0.0, 0.0, 0.0)
    reference = complex(
        _reference(marker.attrib, "refX", view[0], view[2], style),
        _reference(marker.attrib, "refY", view[1], view[3], style),
    )
    back = Affine.from_move(-inner.apply(reference))
    turned = Affine.from_turn(direction_rad).after(Affine.from_scale(scale)).after(back)
    return Affine.from_move(vertex).after(turned)


def _reference(attributes: Mapping[str, str], name: str, start: float, whole: float, style: Style) -> float:
    """Return refX or refY: a length, or a word for a portion of the viewBox."""
    text = attributes.get(name, "0").strip().lower()
    if text in _PORTIONS:
        return start + _PORTIONS[text] * whole
    return length(text, whole=whole, font_px=style.font_px) or 0.0


def _leaving(segment: Segment) -> complex:
    """Return the direction at a segment's start; where it stands still there, a little further on."""
    for t in (0.0, 1e-4, 1e-2):
        velocity = segment.velocity(t)
        if velocity:
            return velocity / abs(velocity)
    return 1 + 0j


def _arriving(segment: Segment) -> complex:
    """Return the direction at a segment's end."""
    return -_leaving(segment.reversed())


def _between(a: complex, b: complex) -> float:
    """Return the direction halfway between two unit vectors."""
    middle = a + b
    return cmath.phase(middle) if abs(middle) > 1e-9 else cmath.phase(a) + math.pi / 2
