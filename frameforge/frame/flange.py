"""A flange: teeth all round a base, folded down along its edge to a wall."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError
from frameforge.frame.base import Edge
from frameforge.frame.spacing import edge_length_mm, equal_arc
from frameforge.frame.spec import FlangeSpec
from frameforge.frame.wording import down, up
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.units import format_floor

__all__ = ["TAPER_DEG", "Flange", "flange_of"]

TAPER_DEG: Final = 5.0
"""How far the sides of a tooth lean in, each, beyond what keeps folded teeth apart (common practice, no source); more
where a notch would else be sharper than the card bears."""

_WIDTH_MM: Final = 10.0
_LEAST_TEETH: Final = 12
_MOST_TEETH: Final = 720
_LARGER: Final = (1.25, 1.5, 2.0, 3.0, 4.0, 6.0)
_SLACK_RAD: Final = 1e-4
_MOST_BULGE_MM: Final = 1.0
"""A tooth folds along the straight line across its root; the edge may bulge so far beyond it (common practice)."""


@dataclass(frozen=True, slots=True)
class Flange:
    """Teeth round an edge: the card with them, and what they measure.

    ``width_mm`` is the least width of a tooth at its root, ``tip_mm`` that of its tip; ``notch_deg`` the least angle
    between two teeth, of which ``turn_deg`` is what they need not to lie over each other when they are folded.
    """

    card: Region
    teeth: int
    width_mm: float
    tip_mm: float
    notch_deg: float
    turn_deg: float
    bulge_mm: float


def flange_of(spec: FlangeSpec, base: Edge, preset: Preset, *, where: str = "") -> Flange:
    """Return the base with its teeth; without a stated count, as many as are about 10 mm wide, 12 at least, and more
    where an oval's ends would bulge too far beyond the lines they fold along.

    Teeth stand on equal lengths of edge. Folded, each stands straight up on the chord of its root, and two neighbours
    keep apart when neither reaches beyond the end of its chord: the notch between them is then at least as wide as the
    turn from one chord to the next (360/n on a circle). The sides lean in by ``TAPER_DEG`` more, or as the card's
    sharpest notch asks.
    Raises GeometryError, with a count or a height that holds, for teeth too narrow for the card or too wide to fold.
    """
    count = spec.teeth or max(_LEAST_TEETH, min(_MOST_TEETH, round(edge_length_mm(base) / _WIDTH_MM)))
    made = _made(spec, base, count, preset)
    if made.bulge_mm > _MOST_BULGE_MM:
        tried = (_made(spec, base, more, preset) for more in range(count + 1, 100 * _MOST_TEETH))
        flatter = next(one for one in tried if one.bulge_mm <= _MOST_BULGE_MM)
        if spec.teeth is not None:
            say = (
                f"{count} teeth are so wide that the edge bulges {format_floor(made.bulge_mm)} beyond the line they "
                f"fold along. Take teeth = {flatter.teeth} or more."
            )
            raise GeometryError(say, where=where, code="flange", teeth=count)
        made = flatter
    if made.tip_mm < preset.least_finger_mm or made.width_mm < preset.least_neck_mm:
        raise _narrow(spec, base, made, preset, where)
    return made


def _made(spec: FlangeSpec, base: Edge, count: int, preset: Preset) -> Flange:
    """Return the base with so many teeth, whether they hold or not."""
    taus = [*equal_arc(base, count, 0.0)]
    roots = [*pairwise([base.point(tau) for tau in (*taus, taus[0])])]
    along = [(right - left) / abs(right - left) for left, right in roots]
    turns = [abs(cmath.phase(b / a)) for a, b in pairwise([*along, along[0]])]
    lean_rad = max(math.radians(TAPER_DEG), (math.radians(preset.tip_deg) - min(turns)) / 2 + _SLACK_RAD)
    lean = math.tan(lean_rad)
    corners: list[complex] = []
    bulges, tips = [], []
    for (left, right), unit, begin, end in zip(roots, along, taus, [*taus[1:], taus[0] + math.tau], strict=True):
        bulge = _bulge_mm(base, (begin, end), left, 1j * unit)
        up_mm = spec.height_mm + bulge
        corners += [left, left + up_mm * (1j + lean) * unit, right + up_mm * (1j - lean) * unit]
        bulges.append(bulge)
        tips.append(abs(right - left) - 2 * up_mm * lean)
    return Flange(
        # Clockwise round the middle as positions are; regions run the other way.
        card=Region(Outline.from_points(corners).reversed()),
        teeth=count,
        width_mm=min(abs(right - left) for left, right in roots),
        tip_mm=min(tips),
        notch_deg=math.degrees(min(turns) + 2 * lean_rad),
        turn_deg=math.degrees(max(turns)),
        bulge_mm=max(bulges),
    )


def _bulge_mm(base: Edge, ends: tuple[float, float], left: complex, outward: complex) -> float:
    """Return how far the edge between two places stands beyond their chord, mm: where its normal is the chord's."""
    low, high = ends
    for _ in range(60):
        middle = (low + high) / 2
        rises = (base.tangent(middle) * outward.conjugate()).real > 0
        low, high = (middle, high) if rises else (low, middle)
    return ((base.point(low) - left) * outward.conjugate()).real


def _narrow(spec: FlangeSpec, base: Edge, made: Flange, preset: Preset, where: str) -> GeometryError:
    """Return the refusal of teeth that come to a point, with what would do."""
    say = (
        f"{made.teeth} teeth {spec.height_mm:g} mm high are {format_floor(max(made.tip_mm, 0.0))} wide at their tips, "
        f"this card needs {preset.least_finger_mm:g} mm."
    )
    ways = []
    for fewer in range(made.teeth - 1, 5, -1):
        tried = _made(spec, base, fewer, preset)
        if tried.bulge_mm > _MOST_BULGE_MM:
            break
        if tried.tip_mm >= preset.least_finger_mm and tried.width_mm >= preset.least_neck_mm:
            ways.append(f"teeth = {fewer}")
            break
    lean = (made.width_mm - made.tip_mm) / (spec.height_mm + made.bulge_mm)
    lower = down((made.width_mm - preset.least_finger_mm) / lean - made.bulge_mm, 0.1)
    if lower >= 1:
        ways.append(f"a height of {lower:.4g} mm or less")
    hint = f" Take {' or '.join(ways)}." if ways else _or_larger(spec, base, preset)
    return GeometryError(say + hint, where=where, code="flange", teeth=made.teeth, tip_mm=made.tip_mm)


def _or_larger(spec: FlangeSpec, base: Edge, preset: Preset) -> str:
    """Return a larger base of the same proportion on which the teeth hold, as an offer; what else to do without one."""
    for factor in _LARGER:
        width, height = (up(2 * half * factor, 1) for half in (base.half_width_mm, base.half_height_mm))
        try:
            flange_of(spec, Edge(width / 2, height / 2), preset)
        except GeometryError:
            continue
        size = f"{width:g} mm" if width == height else f"{width:g} x {height:g} mm"
        return f" Take a base of {size} or more."
    return " Take a much lower flange, or no stated teeth."
