"""What is said of rings: every card with its sizes in mm and inches, and how wide it is once it is cut."""

from __future__ import annotations

from typing import Any

from frameforge.card.preset import Preset
from frameforge.finding import Finding
from frameforge.frame.spec import Size
from frameforge.geometry.measure import area_mm2
from frameforge.job.set_told import SetTold
from frameforge.sets.ring_limits import ring_words
from frameforge.sets.rings import Ring, Rings
from frameforge.units import format_floor, format_mm, format_size

__all__ = ["burnt_thin", "rings_told"]


def rings_told(rings: Rings, kerf_mm: float) -> SetTold:
    """Return what is said of a set of rings, the innermost first.

    A line between two cards serves both, so the beam takes half its width off each; the outermost line lies half a beam
    out in the waste, and its ring loses nothing there.
    """
    cards = rings.rings
    count = len(cards) - 1
    many = "1 ring" if count == 1 else f"{count} rings"
    saved = format_mm(rings.bond.saved_mm)
    lead = f"{many} and a disc, every edge between two of them cut once ({saved} of cutting saved):"
    head = ("card", "outside", "inside", "width", *(("width as cut",) if kerf_mm else ()))
    rows = [_row(ring, k, count, kerf_mm) for k, ring in enumerate(cards)]
    notes = [f"The disc of {_plain(cards[0].outside)} is a piece to use too."]
    if kerf_mm:
        notes.append(
            f"A line between two cards cannot make good the kerf for both: the beam takes {format_floor(kerf_mm / 2)} "
            "off each side of it."
        )
    values = [_values(ring, k, count, kerf_mm) for k, ring in enumerate(cards)]
    return SetTold("rings", "Rings, the innermost first", lead, (head, *rows), tuple(notes), values)


def burnt_thin(rings: Rings, kerf_mm: float, preset: Preset) -> list[Finding]:
    """Return a warning for every ring that the beam makes narrower than this card's least neck."""
    found = []
    last = len(rings.rings) - 1
    for k, ring in enumerate(rings.rings):
        width = _cut_width_mm(ring, k, last, kerf_mm)
        if k and width < preset.least_neck_mm - 1e-9:
            say = (
                f"{format_floor(width)} wide once the beam has taken its part of both edges, this card needs "
                f"{preset.least_neck_mm:g} mm. Take larger steps between the sizes."
            )
            at = complex(0, (ring.outside.height_mm + (ring.inside or ring.outside).height_mm) / 4)
            where = ring_words(ring.outside, is_disc=False)
            found.append(
                Finding(
                    "thin-web",
                    "warning",
                    say,
                    where,
                    x_mm=0.0,
                    y_mm=at.imag,
                    measured=width,
                    limit=preset.least_neck_mm,
                )
            )
    return found


def _row(ring: Ring, k: int, last: int, kerf_mm: float) -> tuple[str, ...]:
    inside = format_size(ring.inside.width_mm, ring.inside.height_mm) if ring.inside else "-"
    cells = ["ring" if k else "disc", format_size(ring.outside.width_mm, ring.outside.height_mm), inside]
    cells.append(_width(ring.width_mm) if k else "-")
    if kerf_mm:
        cells.append(_width(_cut_width_mm(ring, k, last, kerf_mm)))
    return tuple(cells)


def _cut_width_mm(ring: Ring, k: int, last: int, kerf_mm: float) -> float:
    """Return how wide a card is once it is cut: half a kerf less for each side of it that another card shares."""
    shared = 2 if k == 0 else (k > 0) + (k < last)
    return ring.width_mm - shared * kerf_mm / 2


def _values(ring: Ring, k: int, last: int, kerf_mm: float) -> dict[str, Any]:
    return {
        "card": "ring" if k else "disc",
        "outside_mm": [ring.outside.width_mm, ring.outside.height_mm],
        "inside_mm": [ring.inside.width_mm, ring.inside.height_mm] if ring.inside else None,
        "width_mm": ring.width_mm,
        "cut_width_mm": _cut_width_mm(ring, k, last, kerf_mm),
        "area_mm2": area_mm2(ring.piece.region),
    }


def _width(mm: float) -> str:
    """Return a width cut to a thousandth where hundredths do not tell it: what a kerf takes is told by it."""
    return format_floor(mm) if abs(mm - round(mm, 2)) < 1e-6 else f"{int(mm * 1000 + 1e-4) / 1000:.3f} mm"


def _plain(size: Size) -> str:
    return format_size(size.width_mm, size.height_mm)
