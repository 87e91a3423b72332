"""One row built: its repeats placed, what they do to the card, and what it came to."""

from __future__ import annotations

import cmath
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise

from frameforge.finding import Finding
from frameforge.frame.base import Edge
from frameforge.frame.between import edge_between
from frameforge.frame.fit import Fit
from frameforge.frame.layout import Layout, measured
from frameforge.frame.model import RowModel, edges_of
from frameforge.frame.ornament import Ready
from frameforge.frame.piece import PlacedMotif, RowResult
from frameforge.frame.pitch import pitch_deg
from frameforge.frame.presence import present
from frameforge.frame.rim import least_rim_mm
from frameforge.frame.root import following_root, rooted
from frameforge.frame.row_findings import row_findings
from frameforge.frame.row_limits import check_row
from frameforge.frame.tooth import is_of_teeth
from frameforge.frame.unite import RowParts
from frameforge.frame.window import window_of, window_words
from frameforge.frame.zone import reaches_into
from frameforge.geometry.affine import Affine
from frameforge.geometry.combine import Copies, Expression
from frameforge.geometry.region import Region
from frameforge.motif.motif import Motif
from frameforge.tolerances import ROOT_MM
from frameforge.units import to_clock_deg

__all__ = ["BuiltRow", "build_row"]


@dataclass(frozen=True, slots=True)
class BuiltRow:
    """A row's result, its parts in the piece's place, its findings; ``readies`` are the motifs of its repeats."""

    result: RowResult
    parts: RowParts
    findings: tuple[Finding, ...]
    readies: tuple[Ready, ...] = ()


def build_row(model: RowModel, fit: Fit, *, is_trial: bool) -> BuiltRow:
    """Return the row at its settled size, count and scale. Raises GeometryError for what cannot be cut so."""
    filled = None
    if model.row.rest == "filler":
        from frameforge.frame.rest_fill import stepped, stepped_result  # here, as all that few rows need

        filled = stepped(model, fit)
    full = filled.layout if filled else model.layout(fit.size, fit.count, fit.scale)
    full, is_out, cut_off = _behind_fold(model, fit, full)
    directions = [to_clock_deg(cmath.phase(seat.middle)) for seat in full.seats]
    positions = _positions(directions)
    is_there = present(model, full, directions, positions, is_out)
    layout = measured(
        full.track, full.readies, [s.tau for s in full.seats], is_there, full.spread, is_open=full.is_open
    )
    check_row(model, fit, layout)
    motifs = _motifs(layout)
    repeats = tuple(
        PlacedMotif(position, motif, layout.track.placement(ready, seat), direction, seat)
        for position, motif, ready, seat, direction, there in zip(
            positions, motifs, layout.readies, layout.seats, directions, is_there, strict=True
        )
        if there
    )
    result = _result(model, fit, layout, repeats)
    if filled:
        result = stepped_result(filled, result)
    edge = edge_between(model, fit.size, layout, is_out)
    parts = replace(_parts(model, fit, layout), raised=edge.raised, hollow=edge.taken, filled=edge.filled)
    left = _left_out(model, full)
    of_parts = (*window_words(model, layout.readies), *_of_loose(model, fit.scale))
    fit = replace(fit, took=(*fit.took, *left, *cut_off, *edge.took, *of_parts))
    findings = () if is_trial else row_findings(model, fit, layout, positions, directions)
    readies = tuple(ready for ready, there in zip(layout.readies, is_there, strict=True) if there)
    return BuiltRow(result, parts, findings, readies)


def _behind_fold(model: RowModel, fit: Fit, full: Layout) -> tuple[Layout, tuple[bool, ...], tuple[str, ...]]:
    """Return the row as it keeps behind a fold or beside slots, which repeats do not, and what is said of it."""
    if model.spec.fold is not None:
        from frameforge.frame.behind import behind_lines  # here, since few pieces are folded

        behind = behind_lines(model, fit.size, full)
    elif model.spec.stand is not None:
        from frameforge.frame.slots import beside_slots  # here, as above

        behind = beside_slots(model, fit.size, full)
    else:
        return full, (), ()
    return behind.layout, behind.is_out, behind.took


def _left_out(model: RowModel, full: Layout) -> tuple[str, ...]:
    """Return how many places of a whole ring a zone kept free takes."""
    zone, count = model.row.keep_free, len(full.seats)
    missing = sum(reaches_into(full, k, *zone) for k in range(count)) if zone else 0
    return (f"left out {missing} of {count} places, for the {zone[0]:g} degrees kept free",) if zone and missing else ()


def _of_loose(model: RowModel, scale: float) -> tuple[str, ...]:
    """Return what became of loose parts where the row says what to do with them."""
    if model.row.loose == "keep":
        return ()
    from frameforge.frame.loose_words import loose_words  # here, since few rows have loose parts

    return loose_words(model, scale)


def _motifs(layout: Layout) -> Sequence[Motif]:
    """Return the motif of every repeat, as it is bent where the row is."""
    if not layout.track.is_bent:
        return [ready.motif for ready in layout.readies]
    from frameforge.frame.bent_row import bent_motifs

    return bent_motifs(layout)


def _positions(directions: list[float]) -> list[int]:
    """Return the numbers of the repeats, from 1 at the top, clockwise."""
    order = sorted(range(len(directions)), key=lambda k: round(directions[k], 9) % 360.0)
    numbers = {k: number for number, k in enumerate(order, start=1)}
    return [numbers[k] for k in range(len(directions))]


def _result(model: RowModel, fit: Fit, layout: Layout, repeats: tuple[PlacedMotif, ...]) -> RowResult:
    row = model.row
    taus = [seat.tau for seat in layout.seats]
    is_even = layout.track.edge.is_circle and all(abs((b - a) - (taus[1] - taus[0])) < 1e-9 for a, b in pairwise(taus))
    gaps = model.gaps_mm(fit.size, layout)
    return RowResult(
        motif_name="+".join(ornament.motif.name for ornament in row.pattern),
        count=len(repeats),
        gap_mm=min(gaps, default=None),
        foot_gap_mm=layout.foot_gap_mm,
        gap_max_mm=max(gaps, default=None),
        pitch_deg=pitch_deg(layout, len(layout.seats)),
        start_deg=row.start_deg,
        seam_gap_mm=None,
        scale=fit.scale,
        seat=row.seat,
        place=row.place,
        spread=None if is_even else layout.spread,
        repeats=repeats,
        is_of_teeth=is_of_teeth(layout),
    )


def _parts(model: RowModel, fit: Fit, layout: Layout) -> RowParts:
    """Return what the row adds, takes away and cuts out."""
    if model.row.place == "window":
        return RowParts(pierces=_copies(layout, partial(window_of, model)))
    track = layout.track
    cleared = _cut_away(layout, model.own_edge(fit.size, layout), is_flat=model.row.between == "flat")
    pierced = _copies(layout, lambda ready: ready.motif.window)
    if track.meets != "opening" or track.is_bent:
        depth = 0.0 if track.meets == "none" else ROOT_MM
        return RowParts(clears=cleared, adds=_copies(layout, lambda r: rooted(r.motif, depth)), pierces=pierced)
    deepest = max(seat.sagitta_mm for seat in layout.seats) + ROOT_MM
    base, opening = edges_of(model.spec, fit.size)
    if opening is not None and least_rim_mm(base, opening) > deepest + model.preset.least_neck_mm:
        return RowParts(clears=cleared, adds=_copies(layout, lambda r: rooted(r.motif, deepest)), pierces=pierced)
    roots = tuple(
        following_root(track.edge, seat)
        for seat, there in zip(layout.seats, layout.is_there, strict=True)
        if there and seat.sagitta_mm > 0
    )
    return RowParts(clears=cleared, adds=(*_copies(layout, lambda r: r.motif.join), *roots), pierces=pierced)


def _cut_away(layout: Layout, edge: Edge, *, is_flat: bool) -> tuple[Expression, ...]:
    """Return the cut-aways, carried up past the edge so far that no scrap of it stays beside or above them."""
    corners = [k for k, ready in enumerate(layout.readies) if layout.is_there[k] and ready.motif.cut_away]
    if not corners or layout.track.meets == "none":
        return _copies(layout, lambda ready: ready.motif.cut_away)
    from frameforge.frame.mouth import edge_height_mm, opened  # here, since few motifs cut away

    top = max(edge_height_mm(layout, k, edge, is_flat=is_flat) for k in corners) + ROOT_MM
    return _copies(layout, lambda ready: opened(ready.motif, top))


def _copies(layout: Layout, regions_of: Callable[[Ready], tuple[Region, ...]]) -> tuple[Expression, ...]:
    """Return the regions of every repeat, each kind of motif once with all its placements."""
    if layout.track.is_bent:
        from frameforge.frame.bent_row import bent_copies  # here, since most rows stand as drawn

        return bent_copies(layout, regions_of)
    placements: dict[Ready, list[Affine]] = {}
    for ready, seat, there in zip(layout.readies, layout.seats, layout.is_there, strict=True):
        if there:
            placements.setdefault(ready, []).append(layout.track.placement(ready, seat))
    return tuple(Copies(region, tuple(maps)) for ready, maps in placements.items() for region in regions_of(ready))
