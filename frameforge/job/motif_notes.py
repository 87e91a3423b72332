"""What was said about motifs when their drawings were read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from frameforge.finding import Finding
from frameforge.frame.piece import RowResult
from frameforge.frame.spec import PieceSpec
from frameforge.motif.foot import NOT_TOUCHING
from frameforge.motif.motif import Motif

__all__ = ["motif_notes"]


def motif_notes(spec: PieceSpec, rows: Sequence[RowResult] = ()) -> list[Finding]:
    """Return a note for everything that was said about a motif's drawing when it was read, and what was found in it.

    What is said of a foot that was found is that of the motif as large as it stands in ``rows``.
    """
    as_cut = {repeat.motif.name: repeat.motif.foot_note for row in rows for repeat in row.repeats}
    drawn = [(one.motif, bool(one.tied or one.left_out)) for row in spec.rows for one in row.pattern]
    motifs = dict.fromkeys(
        (motif.name, _notes(motif, as_cut.get(motif.name, ""), is_held=is_held), motif.findings)
        for motif, is_held in drawn
    )
    found = [replace(one, where=f"{name}, {one.where}".rstrip(", ")) for name, _, all_of in motifs for one in all_of]
    return found + [Finding("drawing", "note", f"{name}: {note}") for name, notes, _ in motifs for note in notes]


def _notes(motif: Motif, as_cut: str, *, is_held: bool) -> tuple[str, ...]:
    """Return the notes on a motif, that on its foot as it stands where that is known.

    ``is_held``: its loose parts were tied or left out, and no more is to be said of them.
    """
    told = (note for note in motif.notes if not (is_held and NOT_TOUCHING in note))
    return tuple(as_cut if as_cut and note == motif.foot_note else note for note in told)
