"""Which table of the recipe a made piece came from, and what its rows came to where that was left open."""

from __future__ import annotations

from typing import Any

from frameforge.job.made import MadePiece

__all__ = ["origin_values"]


def origin_values(made: MadePiece) -> dict[str, Any]:
    """Return the piece's table as the page names it ("piece.1"), width and height of its base, and count, gap and scale
    of each of its rows (mm)."""
    kind, number = made.origin
    settled = [
        {
            "count": row.count,
            "gap_mm": None if row.gap_mm is None else round(max(row.gap_mm, 0.0), 2),
            "scale": round(row.scale, 4),
        }
        for row in made.piece.rows
    ]
    size = made.piece.size
    return {"of": f"{kind}.{number}", "base": [size.width_mm, size.height_mm], "settled": settled}
