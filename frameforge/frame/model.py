"""A row as a function of size, count and scale: the one place where the four numbers of a fit meet."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from frameforge.card.preset import Preset
from frameforge.errors import FrameforgeError, GeometryError, InputError
from frameforge.frame.base import Edge
from frameforge.frame.fold import check_folds, has_folds, may_fold, squeezes
from frameforge.frame.layout import Layout, Start, lay_out, measured, one_turn
from frameforge.frame.ornament import Ready, ready
from frameforge.frame.others import others_within
from frameforge.frame.place import Track, track_for, window_inset_mm
from frameforge.frame.spacing import edge_length_mm, equal_angle, equal_arc
from frameforge.frame.spec import PieceSpec, RowSpec, Size, Spread
from frameforge.frame.tooth import is_of_teeth, tooth_widths_mm
from frameforge.frame.trying import SPENT
from frameforge.frame.ways import RefusedError, Way, sentence_of
from frameforge.frame.wording import down, round_words, size_words
from frameforge.tolerances import GAP_SLACK_MM
from frameforge.units import format_floor

__all__ = ["RowModel", "edges_of"]

_FAR_OVER = -0.1
"""Below this factor of its width a bent motif is folded over however the places move a little."""


def edges_of(spec: PieceSpec, size: Size) -> tuple[Edge, Edge | None]:
    """Return the edges of base and opening when the base has the given size.

    Raises GeometryError when a rim is wider than the base's curve allows.
    """
    base = Edge.from_size(size)
    if spec.rim_mm is not None:
        if not spec.rim_mm < base.least_radius_mm:
            raise _rim_too_wide(spec.name, spec.rim_mm, base)
        return base, base.parallel(-spec.rim_mm)
    return base, Edge.from_size(spec.opening) if spec.opening else None


_CROWD = 24
_DEEP = 0.25
"""More repeats than this that stand so deep in each other, as a part of their width, are not solved on an oval."""


@dataclass(frozen=True, slots=True)
class RowModel:
    """One row of a piece, on a card with a preset. Layouts are made for any size, count and scale."""

    spec: PieceSpec
    row: RowSpec
    preset: Preset

    @property
    def unit(self) -> int:
        """How many repeats make one whole turn of the pattern: counts are multiples of it."""
        length = len(self.row.pattern)
        return math.lcm(length, 2) if self.row.is_mirrored_every_other else length

    @property
    def step(self) -> int:
        """What counts are multiples of: whole patterns, or 1 where a zone kept free leaves the ring open."""
        return 1 if self.zone else self.unit

    @property
    def zone(self) -> tuple[float, float] | None:
        """The zone beside which the row is spread, (width, middle) in degrees; None where the ring is whole."""
        return self.row.keep_free if self.row.free == "spread" else None

    @property
    def spread(self) -> Spread:
        """The rule by which repeats are spread; equal gaps where nothing is said."""
        return self.row.spread or "equal-gap"

    @property
    def given_scale(self) -> float:
        """The scale that the row states, by scale or by foot; 1 where it states none or wants it found.

        A foot is that of the first motif of the pattern. Raises InputError when both are stated or out of range.
        """
        row = self.row
        if row.scale is not None and row.foot_mm is not None:
            raise InputError("scale and foot say the same thing twice. Leave one of them out.", where=self.spec.name)
        scale = 1.0
        if isinstance(row.scale, int | float):
            scale = float(row.scale)
        if isinstance(row.foot_mm, int | float):
            first = row.pattern[0]
            own = first.motif.foot_mm * first.scale
            if own == 0:
                raise InputError(f"{first.motif.name} has no foot to size. Give a scale.", where=self.spec.name)
            scale = row.foot_mm / own
        if not (scale > 0 and math.isfinite(scale)):
            raise InputError(f"the motif's scale comes to {scale:g}. It must be above 0.", where=self.spec.name)
        return scale

    @property
    def neck_mm(self) -> float | None:
        """How wide a foot that was found must be, mm; None where it stays: of windows, and of a stated width."""
        is_fixed = self.row.place == "window" or isinstance(self.row.foot_mm, int | float)
        return None if is_fixed else self.preset.least_neck_mm

    def readies(self, count: int, scale: float) -> tuple[Ready, ...]:
        """Return the motifs of all positions at a scale; what cuts no window stands on feet that the card can bear."""
        pattern, flips, unit, neck = self.row.pattern, self.row.is_mirrored_every_other, self.unit, self.neck_mm
        kinds = [
            ready(pattern[k % len(pattern)], scale, is_flipped=flips and k % 2 == 1, least_neck_mm=neck)
            for k in range(unit)
        ]
        return tuple(kinds[k % unit] for k in range(count))

    def track(self, size: Size, scale: float) -> Track:
        """Return the track of the row on a base of the given size. Raises GeometryError when there is none."""
        base, opening = edges_of(self.spec, size)
        tallest = max(r.box.height_mm for r in self.readies(self.unit, scale))
        inset = window_inset_mm(self.row, base, opening, tallest, self.preset)
        try:
            return track_for(self.row, base, opening, inset)
        except FrameforgeError as fault:
            raise type(fault)(fault.say, where=self.spec.name, code=fault.code, **fault.numbers) from fault

    def start(self) -> Start:
        """Return where the row begins."""
        return Start(math.radians(self.row.start_deg), self.row.starts_with_gap)

    def layout(self, size: Size, count: int, scale: float) -> Layout:
        """Return all of ``count`` repeats, measured: a whole ring, or what a zone kept free leaves of it.

        Raises GeometryError when a foot finds no seat, gaps cannot be made equal or a bent motif folds over itself.
        """
        layout = self._laid_out(size, count, scale)
        check_folds(layout)
        return layout

    def folds(self, size: Size, count: int, scale: float) -> bool:
        """Whether a bent motif of the ring folds over itself."""
        if self.row.seat != "bent":
            return False
        try:
            if not may_fold(self.track(size, scale), self.readies(self.unit, scale)):
                return False
            return has_folds(self._laid_out(size, count, scale))
        except GeometryError:
            return False

    def _laid_out(self, size: Size, count: int, scale: float) -> Layout:
        """Return the whole ring, whether a motif folds over itself or not: its gaps rise and fall all the same.

        Where motifs at equal steps of the edge are folded far over, that is the answer: equal gaps between folded
        motifs take long to find, and nothing can be cut by them.
        """
        track = self.track(size, scale)
        readies = self.readies(count, scale)
        if count > 1 and may_fold(track, readies):
            even = equal_arc(track.edge, count, track.edge.tau_towards(self.start().direction_rad))
            layout = measured(track, readies, even, (True,) * count, self.spread)
            if min((squeeze.factor for squeeze in squeezes(layout)), default=1.0) <= _FAR_OVER:
                return layout
        if self.zone:
            from frameforge.frame.stretch import spread_beside  # here, since few rows keep a zone free

            return spread_beside(track, readies, self.zone, self.start(), self.spread)
        taus = lay_out(track, readies, self.start(), self.spread)
        return measured(track, readies, taus, (True,) * count, self.spread)

    def clearance_mm(self, size: Size, count: int, scale: float) -> float:
        """Return the gap that the row is about: between feet where a foot gap is asked for, else between outlines.

        Below 0 when motifs stand in each other, whatever the gap between their feet; -infinity where a motif finds no
        seat; infinity for a single one. Where a crowd of them stands deep in each other round an oval, it is the gap of
        as long a circle.
        """
        try:
            crowded = self.crowded_mm(size, count, scale)
            if crowded is not None:
                return crowded
            layout = self._turn(size, count, scale) or self._laid_out(size, count, scale)
        except GeometryError as fault:
            if fault.code == SPENT:
                raise
            return -math.inf
        gap = min(self.gaps_mm(size, layout), default=None)
        if self.row.foot_gap_mm is not None and layout.foot_gap_mm is not None and gap is not None:
            return layout.foot_gap_mm if gap >= -GAP_SLACK_MM else min(gap, layout.foot_gap_mm)
        return math.inf if gap is None else gap

    def crowded_mm(self, size: Size, count: int, scale: float) -> float | None:
        """Return the gap on a circle as long as the oval edge where it is far below 0, else None.

        Overlaps take longest to measure, and nobody asks by how much a thousand motifs do not go round. Raises
        GeometryError where a motif finds no seat there.
        """
        if count <= _CROWD or self.row.seat == "bent":
            return None
        track = self.track(size, scale)
        if track.edge.is_circle:
            return None
        radius = edge_length_mm(track.edge) / math.tau
        readies = self.readies(count, scale)
        taus = equal_angle(count, 0.0)
        if self.zone:
            # As if the middles of the outermost stood at the ends of the zone: wider than it will be.
            taus = tuple(tau * (1 - self.zone[0] / 360) * count / (count - 1) for tau in taus)
        layout = measured(track.on(Edge(radius, radius)), readies, taus, (True,) * count, None, is_open=bool(self.zone))
        gap = layout.gap_mm
        least = min(ready.box.width_mm for ready in readies[: self.unit])
        return gap if gap is not None and gap < -_DEEP * least else None

    def _turn(self, size: Size, count: int, scale: float) -> Layout | None:
        """Return one turn of the pattern where the gaps of the whole ring are those of one, on a circle; else None.

        Where one motif stands between two larger ones, or tips come together in the middle, others than neighbours may
        be nearest to each other: then the whole ring is looked at.
        """
        track, readies = self.track(size, scale), self.readies(count, scale)
        if self.zone or any(ready.is_corner for ready in readies[: self.unit]):
            return None
        turn = one_turn(track, readies, self.start(), self.spread)
        if turn is not None:
            check_folds(turn)
        return turn if self.unit == 1 and track.side > 0 else None

    def gaps_mm(self, size: Size, layout: Layout) -> list[float]:
        """Return the real gaps between neighbours that are there, mm.

        Repeats that are no neighbours count where they stand nearer to each other than any neighbours do.
        Of corner motifs in an opening, whose walls draw apart into the card: the widths of the teeth, which are
        narrowest at the edge and not where a cut-away is drawn to end.
        """
        if not is_of_teeth(layout):
            gaps = [gap.gap_mm for gap in layout.gaps if gap]
            return [*gaps, *(pair.gap.gap_mm for pair in others_within(layout, min(gaps, default=0.0)))]
        # Where other motifs stand between them there is no tooth, and their gaps are as drawn.
        count, cuts = len(layout.seats), [bool(ready.motif.cut_away) for ready in layout.readies]
        gaps = [gap.gap_mm for k, gap in enumerate(layout.gaps) if gap and not (cuts[k] and cuts[(k + 1) % count])]
        near = others_within(layout, min(gaps)) if gaps else []
        mixed = [pair.gap.gap_mm for pair in near if not (cuts[pair.first] and cuts[pair.second])]
        return [*self.tooth_widths_mm(size, layout), *gaps, *mixed]

    def own_edge(self, size: Size, layout: Layout) -> Edge:
        """Return the edge of the card that the row stands at, of which its track may be a parallel."""
        base, opening = edges_of(self.spec, size)
        return opening if layout.track.meets == "opening" and opening is not None else base

    def tooth_widths_mm(self, size: Size, layout: Layout) -> list[float]:
        """Return the least width of the card left between cut-aways that are neighbours, mm."""
        return tooth_widths_mm(layout, self.own_edge(size, layout), is_flat=self.row.between == "flat")

    def sized(self, size: Size) -> PieceSpec:
        """Return the piece's order with its size settled."""
        return replace(self.spec, size=size)


def _rim_too_wide(where: str, rim_mm: float, base: Edge) -> GeometryError:
    """Return the refusal of a rim that no smooth opening goes with, with what would do."""
    size, limit = base.size, base.least_radius_mm
    most = down(limit - 1e-6, 0.1)
    ways = [Way(f"--rim {most:.4g}mm or less", piece={"rim_mm": most})] if most > 0 else []
    if base.is_circle:
        say = f"a rim of {rim_mm:g} mm takes all of {round_words(size)}, and nothing is left for a hole in the middle."
    else:
        say = (
            f"a rim of {rim_mm:g} mm cannot be as wide all round {round_words(size)}: {format_floor(limit)} in from "
            "its ends the inner edge comes to a point."
        )
        inner = [down(side - 2 * rim_mm, 0.1) for side in (size.width_mm, size.height_mm)]
        if min(inner) > 0:
            opening = Size(*inner)
            words = f"--opening {size_words(opening)} in place of --rim"
            ways.append(Way(words, piece={"rim_mm": None, "opening": opening}))
    numbers = {"rim_mm": rim_mm, "limit_mm": limit}
    return RefusedError(say, ways, _or_no_rim, where=where, code="rim", **numbers)


def _or_no_rim(words: list[str]) -> str:
    return sentence_of(words) or " Take a narrower rim, or leave it out."
