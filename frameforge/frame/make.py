"""One piece made: settled, laid out, united, and held together."""

from __future__ import annotations

from dataclasses import replace

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError, InputError
from frameforge.finding import Finding
from frameforge.frame.fit import Fit, fit_row
from frameforge.frame.hole import hole_region
from frameforge.frame.loose import falls_apart
from frameforge.frame.model import RowModel, edges_of
from frameforge.frame.piece import Piece
from frameforge.frame.rest_size import settle_sizes
from frameforge.frame.rim import check_opening
from frameforge.frame.row import BuiltRow, build_row
from frameforge.frame.spec import PieceSpec, Size
from frameforge.frame.unite import unite
from frameforge.frame.window import check_islands
from frameforge.geometry.combine import Combined
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.region import Region

__all__ = ["make_piece"]


def make_piece(spec: PieceSpec, preset: Preset) -> Piece:
    """Return the piece that the order asks for: one region of true curves, its rows measured, its findings.

    Raises InputError for an order that contradicts itself, GeometryError, with numbers and what would work, for one
    that cannot be cut: motifs that overlap, a foot without a seat, an opening without a rim, loose parts.
    """
    _refuse_unbuilt(spec)
    spec, notes = settle_sizes(spec, preset)
    size, rows, combined = _put_together(spec, preset)
    region = _one_part(spec, combined, rows, preset)
    findings = [*notes, *(finding for row in rows for finding in row.findings), *_rough(spec, combined)]
    return Piece(spec.name, size, region, tuple(row.result for row in rows), tuple(findings))


def _put_together(spec: PieceSpec, preset: Preset) -> tuple[Size, list[BuiltRow], Combined]:
    """Return the settled size, the rows built on it and all of it united, in however many parts."""
    models = [RowModel(spec, row, preset) for row in spec.rows]
    for model in models:
        check_islands(model)
    size, fits = _settled(spec, models)
    base, opening = edges_of(spec, size)
    check_opening(spec, base, opening, preset)
    rows = [build_row(model, fit) for model, fit in zip(models, fits, strict=True)]
    holes = [hole_region(spec, hole, base, opening, preset) for hole in spec.holes]
    combined = unite(base.region(), opening.region() if opening else None, [row.parts for row in rows], holes)
    return size, rows, combined


def _refuse_unbuilt(spec: PieceSpec) -> None:
    """Refuse what an order can say and a piece cannot yet be made by, rather than leave it out without a word."""
    if spec.goes_in is not None:
        raise InputError("goes_in cannot be made yet. Leave it out, and compare the width.", where=spec.name)


def _settled(spec: PieceSpec, models: list[RowModel]) -> tuple[Size, list[Fit]]:
    """Return the base size, found by the first row where it is open, and every row's fit on it."""
    if isinstance(spec.size, Size):
        return spec.size, [fit_row(model, spec.size) for model in models]
    if not models:
        raise InputError(
            "a size to find needs a row that decides it. Write a size, for example 100mm.", where=spec.name
        )
    first = fit_row(models[0], None)
    settled = replace(spec, size=first.size)
    rest = [fit_row(RowModel(settled, model.row, model.preset), first.size) for model in models[1:]]
    return first.size, [first, *rest]


def _one_part(spec: PieceSpec, combined: Combined, rows: list[BuiltRow], preset: Preset) -> Region:
    """Return the only region; refuse a piece of none or several."""
    regions = sorted(combined.regions, key=area_mm2, reverse=True)
    if not regions:
        raise GeometryError("nothing is left of the card. Make the opening or the windows smaller.", where=spec.name)
    if len(regions) == 1:
        return regions[0]
    scales = [row.result.scale for row in rows]
    raise falls_apart(spec, regions, scales, lambda tried: len(_put_together(tried, preset)[2].regions))


def _rough(spec: PieceSpec, combined: Combined) -> list[Finding]:
    """Name the places where the outline could not be made exact."""
    return [
        Finding(
            "rough-outline", "warning", "the edge could not be followed exactly here; it is cut as short lines.",
            piece=spec.name, x_mm=spot.real, y_mm=spot.imag,
        )
        for spot in (*combined.report.lost, *combined.report.patched)
    ]  # fmt: skip
