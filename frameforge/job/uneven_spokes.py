"""uneven-spokes: spokes off squared paper cut an oval into uneven lengths of edge."""

from __future__ import annotations

from frameforge.frame.hand_spokes import grid_spokes
from frameforge.frame.layout import Layout
from frameforge.job.fit_answer import Remark
from frameforge.units import format_size

__all__ = ["uneven_spokes"]


def uneven_spokes(layout: Layout) -> Remark:
    """Return the warning that spokes off squared paper cut an oval unevenly, with the lengths of edge between them."""
    edge = layout.track.edge
    spokes = grid_spokes(edge)
    slanted, diagonal = spokes.slanted_mm, spokes.diagonal_mm
    say = (
        f"spokes off squared paper are uneven on {format_size(edge.size.width_mm, edge.size.height_mm)}: at 45 degrees "
        f"they cut the edge into {slanted[1]:.3f} and {slanted[0]:.3f} mm, along the diagonals into "
        f"{diagonal[1]:.3f} and {diagonal[0]:.3f} mm; even is {spokes.even_mm:.3f} mm."
    )
    return Remark("uneven-spokes", "", say)
