"""What was said about motifs when their drawings were read."""

from __future__ import annotations

from dataclasses import replace

from frameforge.finding import Finding
from frameforge.frame.spec import PieceSpec

__all__ = ["motif_notes"]


def motif_notes(spec: PieceSpec) -> list[Finding]:
    """Return a note for everything that was said about a motif's drawing when it was read, and what was found in it."""
    motifs = dict.fromkeys((o.motif.name, o.motif.notes, o.motif.findings) for row in spec.rows for o in row.pattern)
    found = [replace(one, where=f"{name}, {one.where}".rstrip(", ")) for name, _, all_of in motifs for one in all_of]
    return found + [Finding("drawing", "note", f"{name}: {note}") for name, notes, _ in motifs for note in notes]
