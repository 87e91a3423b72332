"""Pieces that would fall apart, drawn all the same, every part that falls off ringed."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any, Final

from frameforge.desk.asked import map_values
from frameforge.desk.drawing import card_values, field_of, within_field
from frameforge.desk.marks import label_values, line_values, point_values, ring_values
from frameforge.desk.near import near_place
from frameforge.desk.offer_place import offer_at
from frameforge.errors import FrameforgeError
from frameforge.finding import Finding, grouped
from frameforge.frame.loose import FallsApartError
from frameforge.geometry.affine import Affine
from frameforge.geometry.box import Box
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.region import Region
from frameforge.picture.as_cut import number_spots
from frameforge.picture.elements import BAR_MM
from frameforge.picture.finding_marks import placed_marks
from frameforge.recipe.recipe import Recipe
from frameforge.units import format_size

__all__ = ["fallen_pieces"]

_DIGITS: Final = 2


def fallen_pieces(fault: FrameforgeError, recipe: Recipe, width_px: float) -> list[dict[str, Any]]:
    """Return the pieces of a refusal that would fall apart, drawn ``width_px`` wide, as plain values for the page."""
    if not isinstance(fault, FallsApartError):
        return []
    names = [table.name or recipe.source.place(("piece", k)) for k, table in enumerate(recipe.pieces)]
    lines = [line.partition(": ") for line in fault.lines]
    return [
        _drawn(regions, names.index(name), next(say for where, _, say in lines if where == name), recipe, width_px)
        for name, regions in fault.apart
        if name in names
    ]


def _drawn(regions: Sequence[Region], index: int, say: str, recipe: Recipe, width_px: float) -> dict[str, Any]:
    """Return the drawing of one piece, of which ``say`` is said."""
    table, box = recipe.pieces[index], bounds(regions)
    to_px, high = field_of(box, width_px)
    loose = regions[1:]
    spots = [
        bounds(part).center if spot is None else to_px.inverse().apply(spot)
        for part, spot in zip(loose, number_spots(loose, to_px), strict=True)
    ]
    groups = grouped(
        Finding("loose", "refused", say, x_mm=spot.real, y_mm=spot.imag, measured=area_mm2(part), unit="mm2")
        for part, spot in zip(loose, spots, strict=True)
    )
    corners = complex(box.left, box.bottom), complex(box.right, box.top)
    rings, labels = placed_marks(groups, to_px, Box.from_points(map(to_px.apply, corners)))
    at = offer_at(f"{table.name or ''}: {say}", recipe.raw)
    (line,) = (line_values(group, to_px, (width_px, high), (lambda _: at) if at else None) for group in groups)
    return {
        "of": f"piece.{index}",
        "name": table.name or "",
        "card": table.card or "",
        "size": f"{format_size(box.width_mm, box.height_mm)} across",
        "width": width_px,
        "height": high,
        "cards": [card_values(regions, to_px, table.card)],
        "bar": round(BAR_MM * to_px.greatest_stretch, _DIGITS),
        "map": map_values(to_px),
        "middle": point_values(to_px.apply(0)),
        "rings": [ring_values(ring) for ring in rings],
        "labels": [label_values(within_field(label, width_px)) for label in labels],
        "findings": [{**line, "places": [_place(part, to_px, (width_px, high)) for part in loose]}],
        "mended": False,
        "mendable": False,
        **{key: [] for key in ("creases", "marks", "positions", "said", "rows", "settled")},
    }


def _place(part: Region, to_px: Affine, size_px: tuple[float, float]) -> dict[str, Any]:
    """Return how a part is gone to: all of it within its ring."""
    box = bounds(part)
    reach = math.hypot(box.width_mm, box.height_mm) / 2 * to_px.greatest_stretch
    return near_place(to_px.apply(box.center), max(reach, 1.0), size_px)
