"""Letters of a TrueType or OpenType font as true curves, and lines of words set in them.

HarfBuzz sets the letters of a run (kerning, marks, joined scripts); which runs read from right to left is the Unicode
bidirectional algorithm's to say (UAX 9). Lengths in the font's own units, y up, the baseline at 0.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import groupby
from typing import Any, Final

from frameforge.errors import InputError
from frameforge.geometry.combine import Loops, evaluate
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region

__all__ = ["Font", "SetGlyph", "read_font"]

_LETTERS_UNITS: Final = 0.7
"""Height of capitals in a font that does not tell it, as a part of its em."""


@dataclass(frozen=True, slots=True)
class SetGlyph:
    """One glyph of a line: its number in the font, the letter (from 0) it belongs to, where its origin stands.

    ``advance`` is how far it carries the line on.
    """

    glyph: int
    letter: int
    at: complex
    advance: float


@dataclass(frozen=True, eq=False)
class Font:
    """A font read from its bytes; equal bytes have the same ``digest``."""

    name: str
    digest: str
    data: bytes

    @cached_property
    def _shaper(self) -> Any:
        """The font as HarfBuzz knows it."""
        import uharfbuzz  # type: ignore[import-untyped]  # here, since pieces without letters do without

        return uharfbuzz.Font(uharfbuzz.Face(self.data))

    @cached_property
    def cap_height(self) -> float:
        """Height of the capitals above the baseline, in the units of the font."""
        import uharfbuzz  # here, as above

        stated = self._shaper.get_metric_position(uharfbuzz.OTMetricsTag.CAP_HEIGHT)
        return float(stated) if stated and stated > 0 else _LETTERS_UNITS * self._shaper.face.upem

    def missing(self, words: str) -> tuple[str, ...]:
        """Return the signs that the font has no glyph for, each once, in their order."""
        wanted = dict.fromkeys(sign for sign in words if not sign.isspace())
        return tuple(sign for sign in wanted if not self._shaper.get_nominal_glyph(ord(sign)))

    def set_line(self, words: str) -> tuple[SetGlyph, ...]:
        """Return the glyphs of a line from left to right, the pen starting at 0."""
        import uharfbuzz  # here, as above

        found: list[SetGlyph] = []
        pen = 0.0
        for start, run, is_rtl in _runs(words):
            buffer = uharfbuzz.Buffer()
            buffer.add_str(run)
            buffer.guess_segment_properties()
            buffer.direction = "rtl" if is_rtl else "ltr"
            uharfbuzz.shape(self._shaper, buffer, {"kern": True, "liga": True})
            for info, position in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
                at = complex(pen + position.x_offset, position.y_offset)
                found.append(SetGlyph(info.codepoint, start + info.cluster, at, float(position.x_advance)))
                pen += position.x_advance
        return tuple(found)

    def glyph_regions(self, glyph: int) -> tuple[Region, ...]:
        """Return the area of a glyph about its origin; none for a blank. Outlines may overlap (nonzero rule)."""
        return _glyph_regions(self, glyph)


@lru_cache(maxsize=4096)
def _glyph_regions(font: Font, glyph: int) -> tuple[Region, ...]:
    pen = _Pen()
    font._shaper.draw_glyph_with_pen(glyph, pen)
    return evaluate(Loops(tuple(pen.outlines))).regions if pen.outlines else ()


class _Pen:
    """Takes down a glyph's outlines as it is drawn."""

    def __init__(self) -> None:
        self.outlines: list[Outline] = []
        self._segments: list[Segment] = []
        self._start = self._at = 0j

    def moveTo(self, point: tuple[float, float]) -> None:  # noqa: N802  # the names of the pen protocol
        self._start = self._at = complex(*point)
        self._segments = []

    def lineTo(self, point: tuple[float, float]) -> None:  # noqa: N802  # as above
        self._add(Line(self._at, complex(*point)))

    def qCurveTo(self, control: tuple[float, float], point: tuple[float, float]) -> None:  # noqa: N802  # as above
        self._add(Cubic.from_quadratic(self._at, complex(*control), complex(*point)))

    def curveTo(self, *points: tuple[float, float]) -> None:  # noqa: N802  # as above
        self._add(Cubic(self._at, *(complex(*point) for point in points)))

    def closePath(self) -> None:  # noqa: N802  # as above
        if self._at != self._start:
            self._add(Line(self._at, self._start))
        if len(self._segments) > 1:
            self.outlines.append(Outline(tuple(self._segments)))
        self._segments = []

    endPath = closePath  # noqa: N815  # as above

    def _add(self, segment: Segment) -> None:
        if segment.start != segment.end or isinstance(segment, Cubic):
            self._segments.append(segment)
        self._at = segment.end


def _runs(words: str) -> list[tuple[int, str, bool]]:
    """Return the runs of a line from left to right: where each begins in the words, its text, whether it reads
    from right to left. UAX 9, rule L2."""
    levels = _levels(words)
    runs = []
    for level, group in groupby(enumerate(levels), key=lambda pair: pair[1]):
        places = [place for place, _ in group]
        runs.append((places[0], words[places[0] : places[-1] + 1], level))
    # From the highest level down to the lowest odd one, every stretch at that level or above is turned round.
    for limit in range(max(levels, default=0), 0, -1):
        start = 0
        while start < len(runs):
            end = start
            while end < len(runs) and runs[end][2] >= limit:
                end += 1
            runs[start:end] = reversed(runs[start:end])
            start = max(end, start + 1)
    return [(start, text, bool(level % 2)) for start, text, level in runs]


def _levels(words: str) -> list[int]:
    """Return the embedding level of every sign: even from left to right, odd from right to left."""
    from bidi import algorithm  # type: ignore[import-untyped]  # here, since pieces without letters do without

    base = algorithm.get_base_level(words)
    storage = algorithm.get_empty_storage()
    storage["base_level"], storage["base_dir"] = base, "LR"[base]
    algorithm.get_embedding_levels(words, storage)
    algorithm.explicit_embed_and_overrides(storage)
    algorithm.resolve_weak_types(storage)
    algorithm.resolve_neutral_types(storage, False)
    algorithm.resolve_implicit_levels(storage, False)
    return [sign["level"] for sign in storage["chars"]]


def read_font(data: bytes, where: str) -> Font:
    """Return the font of a file's bytes. Raises InputError for what is no TrueType or OpenType font with outlines."""
    import uharfbuzz  # here, since pieces without letters do without

    face = uharfbuzz.Face(data)
    name = face.get_name(uharfbuzz.OTNameIdPredefined.FULL_NAME) if face.glyph_count else None
    font = Font(name or where, hashlib.sha256(data).hexdigest(), data)
    if not face.glyph_count or not _draws(font):
        say = "no font with outlines. Name a .ttf or .otf file, or leave font out for our own."
        raise InputError(say, where=where, code="font")
    return font


def _draws(font: Font) -> bool:
    """Whether any of the first glyphs has an outline."""
    pen = _Pen()
    for glyph in range(min(font._shaper.face.glyph_count, 64)):
        font._shaper.draw_glyph_with_pen(glyph, pen)
        if pen.outlines:
            return True
    return False
