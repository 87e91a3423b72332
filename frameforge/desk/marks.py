"""Rings, plant labels and the lines of a list as plain values for the page; positions in px, y down."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from frameforge.desk.near import near_place
from frameforge.desk.offer_place import OfferPlace
from frameforge.desk.offers import has_offers, message_parts
from frameforge.finding import Finding, FindingGroup
from frameforge.geometry.affine import Affine
from frameforge.picture.finding_marks import Label, Ring, inside_px, is_ringed

__all__ = ["label_values", "line_values", "point_values", "ring_values"]

_DIGITS: Final = 2


def point_values(at: complex) -> dict[str, float]:
    """Return a point as x and y, px."""
    return {"x": round(at.real, _DIGITS), "y": round(at.imag, _DIGITS)}


def ring_values(ring: Ring) -> dict[str, Any]:
    """Return a ring: how bad, its middle, half the width of its inside."""
    severity, at, inside = ring
    return {"severity": severity, **point_values(at), "r": round(inside, _DIGITS)}


def label_values(label: Label) -> dict[str, Any]:
    """Return a plant label: its words, its point, how wide it is, whether it rises, and its leader's start."""
    start, point = label.leader
    return {
        **point_values(point),
        "words": label.group.label,
        "number": label.group.number,
        "severity": label.group.first.severity,
        "width": round(label.width_px, _DIGITS),
        "up": label.up,
        "from": point_values(start),
        "ring": {**point_values(label.ring), "r": round(label.ring_px, _DIGITS)},
    }


def line_values(
    group: FindingGroup, to_px: Affine, size_px: tuple[float, float], at: Callable[[Finding], OfferPlace] | None = None
) -> dict[str, Any]:
    """Return a finding as its line in the list, with its places on a drawing of ``size_px``, as they are gone to.

    ``offers`` are what its sentence offers, as the page takes them, for the piece and row that ``at`` tells of it.
    """
    first, scale = group.first, to_px.greatest_stretch
    place = at(first) if at is not None and has_offers(group.sentence) else None
    parts = message_parts(group.sentence, tells_lines=True, at=place)
    return {
        "label": group.label,
        "number": group.number,
        "severity": first.severity,
        "code": first.code,
        "sentence": "".join(part["words"] for part in parts),
        "offers": [part for part in parts if "options" in part],
        "places": [
            near_place(to_px.apply(one.place), inside_px(one, scale), size_px)
            for one in group.findings
            if one.place is not None and is_ringed(group)
        ],
    }
