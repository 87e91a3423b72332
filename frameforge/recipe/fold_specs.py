"""From the tables of folds, lids and stands to what is built."""

from __future__ import annotations

from frameforge.frame.spec import CreaseSpec, FlangeSpec, FoldSpec, StandSpec
from frameforge.recipe.model import FoldTable, LidTable, PieceTable

__all__ = ["flange_spec", "fold_spec", "stand_spec"]


def fold_spec(piece: PieceTable) -> FoldSpec | None:
    """Return the fold of a piece, if it is a tent card."""
    return next((FoldSpec(fold.depth, fold.at, fold.flat, _crease(fold)) for fold in piece.fold), None)


def flange_spec(piece: PieceTable) -> FlangeSpec | None:
    """Return the flange of a piece, if it is a lid with one."""
    flanges = (lid for lid in piece.lid if lid.wall == "flange")
    return next((FlangeSpec(lid.height, lid.teeth, _crease(lid)) for lid in flanges), None)


def stand_spec(piece: PieceTable) -> StandSpec | None:
    """Return the stand of a piece, if it has one."""
    return next((StandSpec(stand.size, stand.feet, stand.layers, stand.play) for stand in piece.stand), None)


def _crease(table: FoldTable | LidTable) -> CreaseSpec:
    """Return how the crease of a fold or a flange is drawn."""
    return CreaseSpec(table.crease, table.dash, table.dash_space, table.stop)
