"""Findings on a picture: a measuring ring on every place, one pointed plant label for all that are equal.

The inside of a ring is the limit at the scale of the drawing, so card or space that does not fill it falls short. All
is told by shape, not by colour: a note has a dotted ring and a pale label, a warning a full ring and a bar under its
number, what was refused a full ring and a filled label.
"""

from __future__ import annotations

import cmath
import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from frameforge.finding import Finding, FindingGroup, Severity
from frameforge.geometry.affine import Affine
from frameforge.geometry.box import Box
from frameforge.picture.elements import line, text
from frameforge.picture.letter_widths import text_width
from frameforge.picture.look import FLEECE, WET_SLATE
from frameforge.picture.path_text import number_text

__all__ = [
    "LABEL_ROOM_PX",
    "MOST_LABELS",
    "Label",
    "Ring",
    "finding_marks",
    "inside_px",
    "is_ringed",
    "label_reach",
    "placed_marks",
]

LABEL_ROOM_PX: Final = 58.0
"""Bench kept free round a piece for its labels."""

MOST_LABELS: Final = 24
"""Kinds of place that get a label; there is no room round a piece for more."""

_RING_PX: Final = 1.8
_CASE_PX: Final = 5.0
_LEADER_PX: Final = 1.3
_LEADER_CASE_PX: Final = 4.0
_NUMBER_PX: Final = 13.0
_LABEL_PX: Final = 22.0
_POINT_PX: Final = 10.0
_AWAY_PX: Final = 18.0
"""From the piece to the point of a label."""
_LEAST_RING_PX: Final = 3.0
_OTHER_RING_PX: Final = 6.0
"""Inside of a ring, half its width, where the limit is no width that could be drawn."""
_SAME_PX: Final = 4.0
"""Rings in one square of this side are one ring."""
_TRIED: Final = 8
"""Places of a group that are tried for its label."""
_TURNS_RAD: Final = tuple(math.radians(k * side * 9.0) for k in range(21) for side in (1, -1))
_CROWDED_RAD: Final = tuple(math.radians(k * side * 2.0) for k in range(91) for side in (1, -1))
"""Turns tried for a label, and those tried where none of them keeps it off another."""
_WHOLE: Final = ("hard-to-hold", "too-big-for-sheet", "too-big-for-envelope")
"""Findings about the whole piece: there is no place in it to ring."""


Spots = npt.NDArray[np.float64]

Ring = tuple[Severity, complex, float]
"""Severity, middle and half the inside of a ring (px)."""


@dataclass(frozen=True, slots=True)
class Label:
    """A label: its group, the ring it belongs to (px), where its point stands (px)."""

    group: FindingGroup
    ring: complex
    ring_px: float
    point: complex

    @property
    def width_px(self) -> float:
        """Width of the label."""
        return _label_width(self.group)

    @property
    def up(self) -> int:
        """1 where the label rises from its point, -1 where it hangs from it, below its ring."""
        return -1 if self.point.imag > self.ring.imag + _LABEL_PX else 1

    @property
    def box(self) -> Box:
        """Where the label lies."""
        x, y, far = self.point.real, self.point.imag, self.point.imag - self.up * (_POINT_PX + _LABEL_PX)
        return Box(x - self.width_px / 2, min(y, far), x + self.width_px / 2, max(y, far))

    @property
    def leader(self) -> tuple[complex, complex]:
        """The ends of the leader: on the ring, and at the point of the label."""
        way = self.point - self.ring
        start = self.ring + way / abs(way) * min(self.ring_px + _RING_PX, abs(way)) if way else self.ring
        return start, self.point


def finding_marks(groups: Sequence[FindingGroup], to_px: Affine, piece: Box) -> list[str]:
    """Return rings, leaders and labels as SVG, placed as ``placed_marks`` tells."""
    rings, labels = placed_marks(groups, to_px, piece)
    leaders = [label.leader for label in labels]
    return [
        *(_circle(at, inside + _RING_PX / 2, FLEECE, _CASE_PX) for _, at, inside in rings),
        *(line(a, b, stroke=FLEECE, width_px=_LEADER_CASE_PX) for a, b in leaders),
        *(_ring(severity, at, inside) for severity, at, inside in rings),
        *(line(a, b, stroke=WET_SLATE, width_px=_LEADER_PX) for a, b in leaders),
        *itertools.chain.from_iterable(_label(label) for label in labels),
    ]


def placed_marks(groups: Sequence[FindingGroup], to_px: Affine, piece: Box) -> tuple[list[Ring], list[Label]]:
    """Return the rings and the labels of findings; ``piece`` is the box of the drawn piece in px, y down.

    Findings without a place, and those about the whole piece, get no mark. Labels stand outside the piece, none on
    another, within ``LABEL_ROOM_PX`` of it; for which there is no such place left, the places are ringed alone.
    """
    px_per_mm = to_px.greatest_stretch
    shown = [group for group in groups if is_ringed(group)]
    rings = _rings(shown, to_px, px_per_mm)
    spots = _spots(rings)
    labels: list[tuple[Label, Box]] = []
    for group in shown[:MOST_LABELS]:
        for turns in (_TURNS_RAD, _CROWDED_RAD):
            best = _best(_options(group, to_px, px_per_mm, piece, turns), labels, spots)
            if not any(_overlap(best.box, theirs, 0.0) for _, theirs in labels):
                labels.append((best, best.box))
                break
    return rings, [label for label, _ in labels]


def is_ringed(group: FindingGroup) -> bool:
    """Return whether the places of a group are ringed: none of what is about the whole piece."""
    return group.number is not None and group.first.code not in _WHOLE


def label_reach(group: FindingGroup) -> float:
    """Return how far (px) beside a piece the label of a group reaches at most."""
    return _AWAY_PX + _label_width(group) + 2


def _best(options: Sequence[_Option], taken: Sequence[tuple[Label, Box]], spots: Spots) -> Label:
    """Return the label at the best of some places, of equally good ones at the first."""
    least, best = math.inf, None
    # None costs less than its turn: past the least cost so far none can be better.
    for option in sorted(options, key=lambda option: option.turn_rad):
        if option.turn_rad > least:
            break
        label = option.label()
        cost = _cost(label, option.turn_rad, taken, spots)
        if best is None or (cost, option.number) < (least, best[0].number):
            least, best = cost, (option, label)
    assert best is not None
    return best[1]


def _rings(groups: Iterable[FindingGroup], to_px: Affine, px_per_mm: float) -> list[Ring]:
    """Return severity, middle and inside (px) of every ring; of several on one place the worst, which comes first."""
    rings: dict[tuple[int, int], Ring] = {}
    for group in groups:
        for finding in group.findings:
            if finding.place is not None:
                at = to_px.apply(finding.place)
                cell = round(at.real / _SAME_PX), round(at.imag / _SAME_PX)
                rings.setdefault(cell, (finding.severity, at, inside_px(finding, px_per_mm)))
    return list(rings.values())


def inside_px(finding: Finding, px_per_mm: float) -> float:
    """Return half the width (px) of the inside of a ring: the limit, drawn; of an area the disc of that area."""
    limit = finding.limit or 0.0
    if finding.unit == "mm2":
        limit = 2 * math.sqrt(limit / math.pi)
    if finding.unit not in ("mm", "mm2") or not limit:
        return _OTHER_RING_PX
    return max(limit / 2 * px_per_mm, _LEAST_RING_PX)


def _label_width(group: FindingGroup) -> float:
    return max(_LABEL_PX, text_width(group.label, _NUMBER_PX, is_bold=True) + 12)


@dataclass(frozen=True, slots=True)
class _Option:
    """A place tried for a label, which comes ``number``-th: a ring (px), and how far from there it is turned, rad."""

    number: int
    group: FindingGroup
    ring: complex
    ring_px: float
    signed_rad: float
    piece: Box

    @property
    def turn_rad(self) -> float:
        """How far it is turned, either way."""
        return abs(self.signed_rad)

    def label(self) -> Label:
        """Return the label there."""
        at = _outside(self.ring, self.signed_rad, self.piece, _label_width(self.group))
        return Label(self.group, self.ring, self.ring_px, at)


def _options(group: FindingGroup, to_px: Affine, px_per_mm: float, piece: Box, turns: Sequence[float]) -> list[_Option]:
    """Return the places tried for the label of a group, turned by so much (rad) from its rings."""
    findings = [finding for finding in group.findings if finding.place is not None]
    step = max(1, len(findings) // _TRIED)
    rings = [
        (to_px.apply(finding.place), inside_px(finding, px_per_mm))
        for finding in findings[::step][:_TRIED]
        if finding.place is not None
    ]
    places = itertools.product(rings, turns)
    return [_Option(k, group, *ring, turn, piece) for k, (ring, turn) in enumerate(places)]


def _outside(ring: complex, turn_rad: float, piece: Box, width: float) -> complex:
    """Return the point of a label outside the piece, in the direction of a ring turned by an angle.

    Labels stand round an ellipse that is wider than the piece by as much as keeps them off it.
    """
    away = ring - piece.center
    direction = cmath.phase(away) if abs(away) > 1 else -math.pi / 2
    c, s = math.cos(direction + turn_rad), math.sin(direction + turn_rad)
    x = piece.center.real + (piece.width_mm / 2 + _AWAY_PX + width / 2 * abs(c)) * c
    return complex(x, piece.center.imag + (piece.height_mm / 2 + _AWAY_PX) * s)


def _spots(rings: Sequence[Ring]) -> Spots:
    """Return middles and outsides of rings (px) in rows of x, y and r."""
    return np.array([(at.real, at.imag, r + _RING_PX + 2) for _, at, r in rings]).reshape(-1, 3).T


def _cost(label: Label, turn_rad: float, taken: Iterable[tuple[Label, Box]], spots: Spots) -> float:
    """Return how bad a place is: how far round it was turned, what it lies on, what its leader crosses."""
    box = label.box
    x, y, r = spots
    lies_on = (box.left - r < x) & (x < box.right + r) & (box.bottom - r < y) & (y < box.top + r)
    cost = turn_rad + 40.0 * int(np.count_nonzero(lies_on))
    for other, theirs in taken:
        cost += 100.0 * _overlap(box, theirs)
        cost += 100.0 * _is_crossed(theirs, label.ring, label.point)
        cost += 100.0 * _is_crossed(box, other.ring, other.point)
        cost += 1.5 * _crosses(label.ring, label.point, other.ring, other.point)
    return cost


def _overlap(a: Box, b: Box, room: float = 4.0) -> bool:
    across = a.left - room < b.right and b.left - room < a.right
    return across and a.bottom - room < b.top and b.bottom - room < a.top


def _is_crossed(box: Box, start: complex, end: complex) -> bool:
    """Return whether a leader runs through a label."""
    if min(start.real, end.real) >= box.right or max(start.real, end.real) <= box.left:
        return False
    if min(start.imag, end.imag) >= box.top or max(start.imag, end.imag) <= box.bottom:
        return False
    return any(
        box.left < p.real < box.right and box.bottom < p.imag < box.top
        for p in (start + (end - start) * k / 24 for k in range(25))
    )


def _crosses(a: complex, b: complex, c: complex, d: complex) -> bool:
    """Return whether two straight leaders cross."""

    def side(p: complex, q: complex, r: complex) -> float:
        return ((q - p).conjugate() * (r - p)).imag

    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0


def _ring(severity: Severity, at: complex, inside: float) -> str:
    return _circle(at, inside + _RING_PX / 2, WET_SLATE, _RING_PX, dashes="2 3" if severity == "note" else "")


def _circle(at: complex, radius_px: float, stroke: str, width_px: float, dashes: str = "") -> str:
    """Return a ring; ``radius_px`` is that of the middle of its line."""
    x, y, r = (number_text(v, 2) for v in (at.real, at.imag, radius_px))
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return (
        f'<circle cx="{x}" cy="{y}" r="{r}" fill="none" stroke="{stroke}" '
        f'stroke-width="{number_text(width_px, 2)}"{dashed}/>'
    )


def _label(label: Label) -> Iterable[str]:
    """Yield the plant label, its number, and the bar under the number of a warning."""
    severity = label.group.first.severity
    fill, ink = (WET_SLATE, FLEECE) if severity == "refused" else (FLEECE, WET_SLATE)
    x, y, half, up = label.point.real, label.point.imag, label.width_px / 2, label.up
    corners = (number_text(v, 2) for v in (x, y, -half, -_POINT_PX * up, -_LABEL_PX * up, 2 * half, _LABEL_PX * up))
    tip_x, tip_y, left, shoulder, side, across, back = corners
    yield (
        f'<path d="M {tip_x} {tip_y} l {left} {shoulder} v {side} h {across} v {back} Z" fill="{fill}" '
        f'stroke="{WET_SLATE}" stroke-width="1.5" stroke-linejoin="round"/>'
    )
    words, baseline = label.group.label, y - 16 if up > 0 else y + _POINT_PX + 15
    yield text(complex(x, baseline), words, size_px=_NUMBER_PX, is_bold=True, fill=ink, anchor="middle")
    if severity == "warning":
        reach, under = max(14.0, text_width(words, _NUMBER_PX, is_bold=True)) / 2, baseline + 4.5
        yield line(complex(x - reach, under), complex(x + reach, under), stroke=WET_SLATE, width_px=2.4)
