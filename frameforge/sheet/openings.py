"""Which piece lies in the opening of which other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import shapely

from frameforge.geometry.flatten import to_polygon
from frameforge.geometry.measure import bounds
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.sheet.design import Design, Layout, Placed

__all__ = ["with_hosts"]


def with_hosts(layout: Layout, designs: Sequence[Design]) -> Layout:
    """Return the layout with ``inside_of`` told for every piece: of several openings round it the smallest."""
    known: dict[tuple[Placed, ...], tuple[Placed, ...]] = {}
    for sheet in layout.sheets:
        if sheet not in known:
            known[sheet] = _with_hosts(sheet, tuple(designs))
    return Layout(tuple(known[sheet] for sheet in layout.sheets))


def _with_hosts(placed: tuple[Placed, ...], designs: tuple[Design, ...]) -> tuple[Placed, ...]:
    pieces = [place.regions(designs) for place in placed]
    holes = [(k, _area(hole)) for k, piece in enumerate(pieces) for region in piece for hole in region.holes]
    tree = shapely.STRtree([area for _, area in holes])
    result = []
    for k, (place, piece) in enumerate(zip(placed, pieces, strict=True)):
        box = bounds(piece)
        round_it = [
            (holes[h][1].area, holes[h][0])
            for h in tree.query(shapely.box(box.left, box.bottom, box.right, box.top))
            if holes[h][0] != k and holes[h][1].contains(to_polygon(piece[0]))
        ]
        result.append(replace(place, inside_of=min(round_it)[1] if round_it else None))
    return tuple(result)


def _area(hole: Outline) -> shapely.Polygon:
    return to_polygon(Region(hole.reversed()))
