"""PDF pages at true size; the only module that calls reportlab.

Lengths in the file are points, 1 pt = 25.4/72 mm. Fonts are embedded, so that every printer sets the same words. Same
pages, same bytes: no date, no random identifier.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Sequence
from importlib import resources
from typing import Any, Final

from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.outline import Segment
from frameforge.picture.paper.marks import Filled, Marks, Stroke, Words
from frameforge.picture.paper.pages import Page
from frameforge.write.marker import BLANK_MARKER, marked_bytes

__all__ = ["MM_TO_PT", "to_pdf"]

MM_TO_PT: Final = 72 / 25.4
"""Points in a millimetre."""

_FONTS: Final = {False: ("FrameforgeText", "Overpass-Regular.ttf"), True: ("FrameforgeBold", "Overpass-Bold.ttf")}
_DRAW: Final = "S"
_FILL_AND_DRAW: Final = "B*"
"""Operators of PDF that end a path (ISO 32000-1, table 60); with the star, by the even-odd rule."""
_STEP_RAD: Final = math.pi / 4 * (1 + 1e-9)
"""A cubic stands for at most this much of an arc: off by 4e-6 of the radius (Goldapp 1991), .001 mm at 250 mm."""


def to_pdf(pages: Iterable[Page], title: str) -> bytes:
    """Return the pages as a PDF file, which proves that we wrote it (in its keywords)."""
    from reportlab import rl_config  # type: ignore[import-untyped]
    from reportlab.pdfgen.canvas import Canvas  # type: ignore[import-untyped]

    # Streams as they are: set in printable letters they take a quarter more room, and most of the time.
    rl_config.useA85 = 0
    buffer = io.BytesIO()
    canvas = Canvas(buffer, invariant=1, pageCompression=1, initialFontName=_registered())
    canvas.setTitle(title)
    canvas.setCreator("frameforge")
    canvas.setProducer("frameforge")
    canvas.setKeywords(BLANK_MARKER)
    canvas.setViewerPreference("PrintScaling", "None")
    for page in pages:
        canvas.setPageSize((page.width_mm * MM_TO_PT, page.height_mm * MM_TO_PT))
        canvas.saveState()
        window = canvas.beginPath()
        w = page.window
        window.rect(w.left * MM_TO_PT, w.bottom * MM_TO_PT, w.width_mm * MM_TO_PT, w.height_mm * MM_TO_PT)
        canvas.clipPath(window, stroke=0, fill=0)
        _draw(canvas, page.marks)
        canvas.restoreState()
        _draw(canvas, page.furniture)
        canvas.showPage()
    canvas.save()
    return marked_bytes(buffer.getvalue())


def _registered() -> str:
    """Make the two fonts known to reportlab; return the name of the plain one."""
    from reportlab.pdfbase import pdfmetrics  # type: ignore[import-untyped]
    from reportlab.pdfbase.ttfonts import TTFont  # type: ignore[import-untyped]

    for name, file in _FONTS.values():
        if name not in pdfmetrics.getRegisteredFontNames():
            data = resources.files("frameforge.picture").joinpath("fonts", file).read_bytes()
            pdfmetrics.registerFont(TTFont(name, io.BytesIO(data)))
    return _FONTS[False][0]


def _draw(canvas: Any, marks: Marks) -> None:
    """Draw lines and words; equal pens once after the other."""
    canvas.setLineCap(0)
    canvas.setLineJoin(1)
    for area in marks.areas:
        _area(canvas, area)
    for stroke in marks.strokes:
        _stroke(canvas, stroke)
    for words in marks.words:
        _words(canvas, words)


def _area(canvas: Any, area: Filled) -> None:
    """Draw one filled area."""
    canvas.setLineWidth(area.width_mm * MM_TO_PT)
    canvas.setDash([])
    canvas.setStrokeGray(0)
    canvas.setFillColor(area.colour)
    canvas.addLiteral("".join(_path(outline.segments) for outline in area.outlines) + _FILL_AND_DRAW)


def _stroke(canvas: Any, stroke: Stroke) -> None:
    """Draw one line."""
    canvas.setLineWidth(stroke.width_mm * MM_TO_PT)
    canvas.setDash([dash * MM_TO_PT for dash in stroke.dashes_mm])
    canvas.setStrokeGray(stroke.grey)
    canvas.addLiteral(_path(stroke.run) + _DRAW)


def _path(run: Sequence[Segment]) -> str:
    """Return segments that follow one another as operators of PDF (ISO 32000-1, 8.5.2), closed where they are."""
    # Written here: the library's own way takes half of the time of a contact sheet.
    words = [_placed(run[0].start), "m "]
    for segment in run:
        for step in _steps(segment):
            words += [*map(_placed, step), "l " if len(step) == 1 else "c "]
    if run[0].start == run[-1].end:
        words.append("h ")
    return "".join(words)


def _placed(z: complex) -> str:
    """Return a point as it stands in the file, to 1e-4 pt (4e-5 mm)."""
    return f"{z.real * MM_TO_PT:.4f} {z.imag * MM_TO_PT:.4f} "


def _steps(segment: Segment) -> Sequence[tuple[complex, ...]]:
    """Return a segment as the points of PDF path operators: one point a line, three a cubic."""
    if isinstance(segment, Cubic):
        return [(segment.c1, segment.c2, segment.end)]
    if not isinstance(segment, Arc):
        return [(segment.end,)]
    count = max(1, math.ceil(abs(segment.sweep_rad) / _STEP_RAD))
    found = []
    for k in range(count):
        t0, t1 = k / count, (k + 1) / count
        # The handle of a cubic that follows an arc of a circle, 4/3 tan(theta/4), carried over to any ellipse.
        part = segment.sweep_rad / count
        handle = 4 / 3 * math.tan(part / 4) / segment.sweep_rad
        start, end = segment.point(t0), segment.point(t1)
        found.append((start + handle * segment.velocity(t0), end - handle * segment.velocity(t1), end))
    return found


def _words(canvas: Any, words: Words) -> None:
    """Set one line of words."""
    canvas.setFont(_FONTS[words.is_bold][0], words.size_mm * MM_TO_PT)
    canvas.setFillGray(words.grey)
    canvas.saveState()
    canvas.translate(*_point(words.at))
    canvas.rotate(words.turn_deg)
    put = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}
    put[words.anchor](0, 0, words.words)
    canvas.restoreState()


def _point(z: complex) -> tuple[float, float]:
    """Return a point in points."""
    return z.real * MM_TO_PT, z.imag * MM_TO_PT
