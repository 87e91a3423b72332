"""Where the motifs of a run come from: the maker's own folder, files beside the recipe, those that travel with us."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from frameforge.motif.catalogue import is_ours, load_motif
from frameforge.motif.motif import Motif
from frameforge.recipe.model import RowTable

__all__ = ["MotifSource"]


@dataclass(frozen=True, slots=True)
class MotifSource:
    """Finds motifs by name or path, each read once: ``beside`` is the recipe's folder, ``folder`` the maker's own."""

    beside: Path
    folder: Path | None = None
    is_lenient: bool = False

    def load(self, name: str, row: RowTable, where: str, *, least_neck_mm: float) -> Motif:
        """Return the motif that a row calls ``name``, with a foot that holds on the card.

        Raises InputError or FileError in the maker's words; ``where`` is the place of the name.
        """
        return load_motif(
            name,
            beside=self.beside,
            folder=self.folder,
            white=row.white,
            lenient=self.is_lenient,
            least_neck_mm=least_neck_mm,
            where=where,
        )

    def is_own(self, name: str) -> bool:
        """Whether a name stands for a motif of the maker's own: a file, or one in the folder named."""
        return not is_ours(name, self.folder)
