"""What polygons are traced back to: chains cut into chords, ready for shapely and for the way back."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from frameforge.geometry.segment_table import Bools, Floats, Ints
from frameforge.geometry.trace.added import Added, inserted
from frameforge.geometry.trace.chains import Chains
from frameforge.geometry.trace.nearby import with_near_places
from frameforge.geometry.trace.strips import Strips
from frameforge.geometry.trace.supports import support_labels
from frameforge.geometry.trace.vertices import Vertices, flatten_chains

__all__ = ["Source"]


@dataclass(frozen=True, slots=True, eq=False)
class Source:
    """Chains, the support of every segment (``labels``), their chords within ``chord_mm``, and a tree of strips.

    ``may_own`` says of every segment whether an edge of a result may be traced back to it. The strips may lack
    vertices that the guard has added since.
    """

    chains: Chains
    labels: Ints
    vertices: Vertices
    strips: Strips
    chord_mm: float
    may_own: Bools

    @classmethod
    def from_chains(
        cls,
        chains: Chains,
        chord_mm: float,
        *,
        may_own: Bools | None = None,
        guards: bool = True,
        finer: Floats | None = None,
    ) -> Source:
        """Return the chains with their chords; ``guards`` adds vertices at close approaches.

        The chains' joints should be welded. ``may_own`` defaults to all segments. ``finer`` tells for every segment by
        what factor its chords lie nearer to it than ``chord_mm``.
        """
        labels = support_labels(chains.table)
        vertices = flatten_chains(chains, labels, chord_mm if finer is None else chord_mm / finer)
        strips = Strips.from_vertices(chains, vertices)
        if guards:
            vertices = with_near_places(chains, labels, vertices, strips, chord_mm)
        allowed = np.ones(len(labels), dtype=bool) if may_own is None else may_own
        return cls(chains, labels, vertices, strips, chord_mm, allowed)

    def with_vertices(self, added: Added) -> Source:
        """Return the source with further vertices on its chords."""
        return replace(
            self, vertices=inserted(self.chains, self.labels, self.vertices, self.strips, added, self.chord_mm)
        )
