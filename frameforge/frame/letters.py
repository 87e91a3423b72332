"""Words set and placed on a piece: along its edge or in its middle, to be marked, cut through, or joined on.

Every letter keeps its shape and is turned as a whole. Along an edge the length of the words is measured on the inner
side of the letters, so that they never crowd: words of length L take the angle L / r on a circle of radius r.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise
from typing import Final

import numpy as np
import shapely
import shapely.affinity
from shapely.geometry.base import BaseGeometry

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError, InputError
from frameforge.frame.base import Edge
from frameforge.frame.letter_ties import held_from_below, held_islands, parted
from frameforge.frame.set_words import SetWords
from frameforge.frame.text_spec import TextSpec
from frameforge.frame.walk import walk_along
from frameforge.geometry import boolean
from frameforge.geometry.affine import Affine
from frameforge.geometry.combine import evaluate, union
from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.read.font_file import Font
from frameforge.tolerances import ROOT_MM
from frameforge.units import format_floor

__all__ = ["LEAST_CAP_MM", "Lettered", "lettered", "shrink_to"]

LEAST_CAP_MM: Final = 2.0
"""Height of capitals below which nobody reads the words and no blade cuts them."""

_CLEAR_MM: Final = 2.0
"""Card left between letters and an edge."""
_LINE_STEP: Final = 1.6
"""From one baseline to the next, as a part of the height of capitals."""
_NEAR_ENOUGH_MM: Final = 1e-6
_HALVINGS: Final = 50
_CONTROLS: Final = dict.fromkeys((*range(0x200E, 0x2010), *range(0x202A, 0x202F), *range(0x2066, 0x206A)))
"""Signs that only steer the direction of words: they are no letters."""


_Placed = tuple[tuple[Region, ...], Affine]
"""A letter about the left end of its baseline, and the map onto the piece."""


@dataclass(frozen=True, slots=True)
class Lettered:
    """What the words of a piece come to: lines to mark, card to join on, holes to cut, what was taken for her, and the
    words where they lie, letter by letter."""

    marks: tuple[Outline, ...] = ()
    adds: tuple[Region, ...] = ()
    pierces: tuple[Region, ...] = ()
    notes: tuple[str, ...] = ()
    words: tuple[SetWords, ...] = ()


@dataclass(frozen=True, slots=True)
class _Letter:
    """A letter with its accents, mm: its card about the left end of its own stretch of the baseline, which is
    ``wide_mm`` long and begins ``start_mm`` along the line."""

    regions: tuple[Region, ...]
    start_mm: float
    wide_mm: float


def shrink_to(length_mm: float, room_mm: float) -> float:
    """Return the scale at which words of a length go into the room, at most 1."""
    return 1.0 if length_mm <= room_mm else room_mm / length_mm


def lettered(texts: Sequence[TextSpec], base: Edge, opening: Edge | None, preset: Preset, where: str) -> Lettered:
    """Return all words of a piece in place.

    Raises InputError for signs the font does not have, GeometryError for words that have no room.
    """
    found = Lettered()
    for text in texts:
        one = _one(text, base, opening, preset, where)
        found = Lettered(
            (*found.marks, *one.marks),
            (*found.adds, *one.adds),
            (*found.pierces, *one.pierces),
            (*found.notes, *one.notes),
            (*found.words, *one.words),
        )
    return found


def _one(text: TextSpec, base: Edge, opening: Edge | None, preset: Preset, where: str) -> Lettered:
    """Return one text in place."""
    lines = [line for line in (raw.translate(_CONTROLS).strip() for raw in text.words.splitlines()) if line]
    if not lines:
        raise InputError("no words to letter. Write some, or leave the text out.", where=where, code="no-words")
    _check_signs(text.font, lines, where)
    if text.along == "rim":
        if len(lines) > 1:
            raise InputError("words along an edge go in one line. Write them in one.", where=where, code="lines")
        placed, scale = _along(text, lines[0], base, opening, preset, where)
    else:
        placed, scale = _in_the_middle(text, lines, base, opening, preset, where)
    notes = []
    if scale < 1:
        notes.append(
            f'took letters {format_floor(text.cap_mm * scale)} high for "{lines[0]}", so that they have room '
            f"(scale {math.floor(scale * 1e4) / 1e4:.4f})."
        )
    shown = tuple(tuple(region.transformed(place) for region in regions) for regions, place in placed)
    said = (SetWords(lines[0], text.style, shown),)
    if text.style == "mark":
        marks = tuple(outline for region in _whole(placed) for outline in region.outlines)
        return Lettered(marks=marks, notes=tuple(notes), words=said)
    if text.style == "window":
        cut, tied = [], 0
        for regions, place in placed:
            held, ties = held_islands(regions, preset.least_web_mm)
            tied += ties
            cut += [region.transformed(place) for region in held]
        if tied:
            notes.append(f"took {tied} tie{'s' if tied > 1 else ''} to hold what lies inside letters.")
        return Lettered(pierces=tuple(cut), notes=tuple(notes), words=said)
    adds = [region.transformed(place) for regions, place in placed for region in regions]
    return Lettered(adds=tuple(adds), notes=tuple(notes), words=said)


def _whole(placed: Sequence[_Placed]) -> tuple[Region, ...]:
    """Return the letters where they lie; those of joined scripts, which run into each other, as one."""
    letters = [tuple(region.transformed(place) for region in regions) for regions, place in placed]
    shapes = [boolean.union([to_polygon(region) for region in regions]) for regions in letters]
    if any(a.intersects(b) for a, b in pairwise(shapes)):
        return evaluate(union(*(region for regions in letters for region in regions))).regions
    return tuple(region for regions in letters for region in regions)


def _check_signs(font: Font, lines: Sequence[str], where: str) -> None:
    """Refuse signs that the font has no letter for."""
    missing = font.missing("".join(lines))
    if missing:
        told = ", ".join(f'"{sign}"' for sign in missing[:8])
        say = f"{font.name} has no letter for {told}. Name a font that has, or write it with other letters."
        raise InputError(say, where=where, code="no-letter")


def _letters(text: TextSpec, line: str, cap_mm: float, preset: Preset) -> tuple[list[_Letter], float]:
    """Return the letters of a line with capitals of a height, and the line's length, mm.

    Letters that are cut out, their dots and their accents stand apart by the card's least web.
    """
    letters, length = _set(text.font, line, cap_mm)
    if text.style != "window":
        return letters, length
    web = preset.least_web_mm
    return _apart([replace(letter, regions=parted(letter.regions, web)) for letter in letters], length, web)


def _apart(letters: list[_Letter], length: float, web_mm: float) -> tuple[list[_Letter], float]:
    """Return the letters of a line moved on where card between two would be thinner than a web."""
    found: list[_Letter] = []
    moved = 0.0
    before: BaseGeometry | None = None
    for letter in letters:
        if letter.regions:
            shape = boolean.union([to_polygon(region) for region in letter.regions])
            while before is not None:
                there = shapely.affinity.translate(shape, letter.start_mm + moved)
                short = web_mm - before.distance(there)
                if short <= _NEAR_ENOUGH_MM:
                    break
                moved += short
            before = shapely.affinity.translate(shape, letter.start_mm + moved)
        found.append(replace(letter, start_mm=letter.start_mm + moved))
    return found, length + moved


def _set(font: Font, line: str, cap_mm: float) -> tuple[list[_Letter], float]:
    """Return the letters of a line as the font sets them, and the line's length, mm."""
    scale = cap_mm / font.cap_height
    found: list[_Letter] = []
    pen = 0.0
    for _, group in groupby(font.set_line(line), key=lambda glyph: glyph.letter):
        glyphs = list(group)
        wide = sum(glyph.advance for glyph in glyphs)
        regions = tuple(
            region.transformed(Affine(scale, 0, scale * (glyph.at - pen)))
            for glyph in glyphs
            for region in font.glyph_regions(glyph.glyph)
        )
        found.append(_Letter(regions, pen * scale, wide * scale))
        pen += wide
    return found, pen * scale


def _along(
    text: TextSpec, line: str, base: Edge, opening: Edge | None, preset: Preset, where: str
) -> tuple[list[_Placed], float]:
    """Return the letters along an edge, and the scale they were taken at."""
    is_inner = text.reads == "inside"
    text = _clear_of_edge(text, line, base, opening, preset)
    edge = _inner_side(text, base, opening, where)
    walk = walk_along(edge)
    room = walk.length_mm * min(text.limit_deg, 360.0) / 360.0
    letters, length = _letters(text, line, text.cap_mm, preset)
    scale = 1.0
    while length > room * (1 + _NEAR_ENOUGH_MM):
        # Once, but for letters that are held apart by a web: that does not shrink with them.
        scale *= shrink_to(length, room)
        _check_scale(text, scale, where)
        letters, length = _letters(text, line, text.cap_mm * scale, preset)
    if scale < 1:
        # Smaller letters keep their baseline, so for words read from the inside their inner side moves out.
        edge = _inner_side(replace(text, cap_mm=text.cap_mm * scale), base, opening, where) if is_inner else edge
        walk = walk_along(edge)
    middle = float(walk.walked_mm(np.array([edge.tau_towards(math.radians(text.at_deg))]))[0])
    side = -1 if is_inner else 1
    cap = text.cap_mm * scale
    placed = []
    for letter in letters:
        if not letter.regions:
            continue
        way = middle + side * (letter.start_mm + letter.wide_mm / 2 - length / 2)
        tau = float(walk.tau(np.array([way]))[0])
        tangent = edge.tangent(tau)
        lift = 1j * cap if is_inner else 0j
        sink = 0.0
        regions = letter.regions
        if text.style == "join":
            sink = ROOT_MM + letter.wide_mm**2 / 8 * edge.curvature(tau)
            regions = held_from_below(regions, sink, preset.least_neck_mm)
        place = Affine(side * tangent, 0, edge.point(tau)).after(
            Affine.from_move(complex(-letter.wide_mm / 2, -sink) - lift)
        )
        placed.append((regions, place))
    return placed, scale


def _clear_of_edge(text: TextSpec, line: str, base: Edge, opening: Edge | None, preset: Preset) -> TextSpec:
    """Return letters to be cut out so far in that accents above them, or tails below them, leave a web to the edge."""
    if text.style != "window" or text.inset_mm is not None or opening is not None:
        return text
    radius = max(base.least_radius_mm - text.cap_mm, text.cap_mm)
    reach = 0.0
    for letter in _letters(text, line, text.cap_mm, preset)[0]:
        for box in map(bounds, letter.regions):
            # What lies beside the middle of its letter lies farther out than at its middle.
            beside = max(letter.wide_mm / 2 - box.left, box.right - letter.wide_mm / 2)
            out = box.top - text.cap_mm if text.reads == "outside" else -box.bottom
            reach = max(reach, out + beside**2 / (2 * radius))
    more = max(0.0, reach + preset.least_web_mm - _CLEAR_MM)
    return replace(text, inset_mm=_CLEAR_MM + text.cap_mm / 2 + more) if more else text


def _inner_side(text: TextSpec, base: Edge, opening: Edge | None, where: str) -> Edge:
    """Return the edge along the inner side of the letters. Raises GeometryError where there is no room for it."""
    cap = text.cap_mm
    if text.style == "join":
        if text.reads == "outside":
            return base
        if opening is None:
            say = (
                "letters joined on and read from the inside stand in an opening, and there is none. "
                'Give the piece one, or write reads = "outside".'
            )
            raise InputError(say, where=where, code="no-opening")
        inward = -cap
        under = opening
    else:
        rim = math.inf
        if opening is not None:
            rim = min(base.size.width_mm - opening.size.width_mm, base.size.height_mm - opening.size.height_mm) / 2
        middle = text.inset_mm if text.inset_mm is not None else rim / 2 if opening is not None else _CLEAR_MM + cap / 2
        if opening is not None and (middle + cap / 2 > rim or middle - cap / 2 < 0):
            say = (
                f"letters {format_floor(cap)} high have no room in a rim of {format_floor(rim)}. "
                f"Take a size of {format_floor(max(rim - _CLEAR_MM, 0.0))} or less, or a wider rim."
            )
            raise GeometryError(say, where=where, code="no-room")
        inward, under = -(middle + cap / 2), base
    if not inward > -under.least_radius_mm:
        say = (
            f"letters {format_floor(cap)} high do not go round so tight an edge. "
            "Take smaller ones, or set them in the middle."
        )
        raise GeometryError(say, where=where, code="no-room")
    return under.parallel(inward)


def _in_the_middle(
    text: TextSpec, lines: Sequence[str], base: Edge, opening: Edge | None, preset: Preset, where: str
) -> tuple[list[_Placed], float]:
    """Return the letters in straight lines about the middle, and the scale they were taken at."""
    if opening is not None:
        say = "the middle of this piece is a hole. Set the words along the rim, or leave the opening out."
        raise InputError(say, where=where, code="opening")
    if text.style == "join":
        say = 'letters in the middle have no edge to be joined to. Take them as "window" or "mark".'
        raise InputError(say, where=where, code="join")
    scale = _largest_scale(text, lines, base, preset)
    _check_scale(text, scale, where)
    placed = []
    for line, (bottom, _) in zip(lines, _bands(len(lines), text.cap_mm * scale), strict=True):
        letters, length = _letters(text, line, text.cap_mm * scale, preset)
        placed += [
            (letter.regions, Affine.from_move(complex(letter.start_mm - length / 2, bottom)))
            for letter in letters
            if letter.regions
        ]
    return placed, scale


def _largest_scale(text: TextSpec, lines: Sequence[str], base: Edge, preset: Preset) -> float:
    """Return the largest scale, at most 1, at which every line goes into the oval; found by halving."""
    lengths = [_set(text.font, line, text.cap_mm)[1] for line in lines]

    def fits(scale: float) -> bool:
        bands = _bands(len(lines), text.cap_mm * scale)
        return all(length * scale <= _room_mm(base, *band) for length, band in zip(lengths, bands, strict=True))

    low, high = (1.0, 1.0) if fits(1.0) else (0.0, 1.0)
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if fits(middle) else (low, middle)
    while text.style == "window" and low * text.cap_mm >= LEAST_CAP_MM:
        bands = _bands(len(lines), text.cap_mm * low)
        shrunk = min(
            shrink_to(_letters(text, line, text.cap_mm * low, preset)[1], _room_mm(base, *band))
            for line, band in zip(lines, bands, strict=True)
        )
        if shrunk >= 1 - _NEAR_ENOUGH_MM:
            break
        low *= shrunk
    return low


def _bands(count: int, cap_mm: float) -> list[tuple[float, float]]:
    """Return baseline and top of the capitals of every line, the whole centred at 0."""
    tall = cap_mm * (1 + _LINE_STEP * (count - 1))
    return [(tall / 2 - cap_mm - _LINE_STEP * cap_mm * k, tall / 2 - _LINE_STEP * cap_mm * k) for k in range(count)]


def _room_mm(base: Edge, bottom: float, top: float) -> float:
    """Return how long a line of a band may be in an oval, with clear card at its ends; a little where there is none."""
    a, b = base.size.width_mm / 2 - _CLEAR_MM, base.size.height_mm / 2 - _CLEAR_MM
    worst = max(abs(bottom), abs(top))
    return 2 * a * math.sqrt(1 - (worst / b) ** 2) if worst < b else 1e-3


def _check_scale(text: TextSpec, scale: float, where: str) -> None:
    """Refuse words that would come out too small to read."""
    if text.cap_mm * scale < LEAST_CAP_MM:
        first = text.words.split("\n")[0]
        say = (
            f'"{first}" goes here only {format_floor(text.cap_mm * scale)} high, too small to read. '
            "Write fewer words, or make the piece larger."
        )
        raise GeometryError(say, where=where, code="too-small", scale=scale)
