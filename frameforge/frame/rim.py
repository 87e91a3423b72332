"""The rim: the band of card left round an opening, and what is too little of it."""

from __future__ import annotations

from frameforge.card.preset import Preset
from frameforge.frame.base import Edge
from frameforge.frame.spec import PieceSpec, Size
from frameforge.frame.ways import RefusedError, Way, sentence_of
from frameforge.frame.wording import down, round_words, size_words
from frameforge.geometry.shapes import ellipse
from frameforge.units import format_floor

__all__ = ["check_opening", "least_rim_mm"]

_HALVINGS = 60


def least_rim_mm(base: Edge, opening: Edge) -> float:
    """Return the least width of card between two edges round the same middle, mm; 0 or less where one passes the other.

    Exact for parallels and circles; else the distance of the curves.
    """
    same = (base.half_width_mm, base.half_height_mm) == (opening.half_width_mm, opening.half_height_mm)
    if same or (base.is_circle and opening.is_circle):
        return base.half_width_mm + base.offset_mm - opening.half_width_mm - opening.offset_mm
    inside = base.size
    if opening.size.width_mm >= inside.width_mm or opening.size.height_mm >= inside.height_mm:
        return min(inside.width_mm - opening.size.width_mm, inside.height_mm - opening.size.height_mm) / 2
    from frameforge.geometry.nearest import distance  # here, since most rims are even

    ovals = [ellipse(0, e.half_width_mm, e.half_height_mm) for e in (base, opening)]
    return distance([ovals[0]], [ovals[1]]).gap_mm


def check_opening(spec: PieceSpec, base: Edge, opening: Edge | None, preset: Preset) -> None:
    """Refuse an opening that leaves less rim than the card's least neck, with the opening that would do.

    Raises RefusedError.
    """
    if opening is None:
        return
    rim, least = least_rim_mm(base, opening), preset.least_neck_mm
    if rim >= least - 1e-9:
        return
    asked = opening.size
    if spec.rim_mm is not None:
        say = f"a rim of {format_floor(rim)}, this card needs {least:g} mm."
        wider = Way(f"--rim {least:g}mm or more", piece={"rim_mm": least})
        raise RefusedError(say, [wider], where=spec.name, code="no-rim", rim_mm=rim, limit_mm=least)
    if rim <= 0:
        what = f"an opening of {_plain(asked)} takes all of {round_words(base.size)}, no rim is left."
    else:
        what = f"an opening of {_plain(asked)} leaves a rim of {format_floor(rim)}, this card needs {least:g} mm."
    offer = _largest_opening(base, asked, least) or _largest_like(base, asked, least)
    ways = [Way(f"--opening {size_words(offer)} or less", piece={"opening": offer})] if offer else []
    # An opening that would do of itself may yet be none for what else is asked.
    none = "Take a smaller opening, or a larger size." if offer else "The base is too small for an opening."

    def phrase(words: list[str]) -> str:
        return sentence_of(words) or f" {none}"

    raise RefusedError(what, ways, phrase, where=spec.name, code="no-rim", rim_mm=rim, limit_mm=least)


def _plain(size: Size) -> str:
    return size_words(size).removesuffix("mm") + " mm"


def _largest_like(base: Edge, asked: Size, least: float) -> Size | None:
    """Return the opening of the proportion asked for that leaves the least rim, in steps of .1 mm; None for none."""
    low, high = 0.0, 1.0
    for _ in range(_HALVINGS):
        part = (low + high) / 2
        like = Edge.from_size(Size(asked.width_mm * part, asked.height_mm * part))
        low, high = (part, high) if least_rim_mm(base, like) >= least else (low, part)
    width, height = down(asked.width_mm * low, 0.1), down(asked.height_mm * low, 0.1)
    if min(width, height) <= 0.05:
        return None
    found = Size(width, height)
    return found if least_rim_mm(base, Edge.from_size(found)) >= least - 1e-9 else None


def _largest_opening(base: Edge, asked: Size, least: float) -> Size | None:
    """Return the opening, both axes less by the same, that just leaves the least rim; in steps of .1 mm."""

    def shrunk(by: float) -> Size | None:
        width, height = down(asked.width_mm - by, 0.1), down(asked.height_mm - by, 0.1)
        return Size(round(width, 1), round(height, 1)) if min(width, height) > 0.05 else None

    low, high = 0.0, min(asked.width_mm, asked.height_mm)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        size = Size(asked.width_mm - middle, asked.height_mm - middle) if middle < high else None
        if size is not None and least_rim_mm(base, Edge.from_size(size)) >= least:
            high = middle
        else:
            low = middle
        if high - low < 1e-9:
            break
    found = shrunk(high)
    return found if found and least_rim_mm(base, Edge.from_size(found)) >= least - 1e-9 else None
