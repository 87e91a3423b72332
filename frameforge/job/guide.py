"""One run of ``guide``: full-size pages for those who cut or punch by hand, as a PDF."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from frameforge import __version__
from frameforge.job.guide_grid import grid_of
from frameforge.job.guide_order import GuideOrder, page_asked
from frameforge.job.guide_piece import piece_guides
from frameforge.picture.paper.pages import guide_pages
from frameforge.write.out_folder import OutFile, OutFolder, PieceFiles
from frameforge.write.pdf import to_pdf

if TYPE_CHECKING:
    from frameforge.job.make import Progress

__all__ = ["GuideResult", "guide"]


@dataclass(frozen=True, slots=True)
class GuideResult:
    """What was written: the folder, the files in it, how many pages each has, and lines for the maker."""

    out: Path
    files: tuple[str, ...]
    pages: tuple[int, ...]
    said: tuple[str, ...]
    papers: tuple[str, ...]

    def as_json(self) -> dict[str, Any]:
        """Return the run as a table of plain values."""
        return {"out": str(self.out), "files": list(self.files), "pages": sum(self.pages)}

    def lines(self) -> list[str]:
        """Return what is said at the end of the run."""
        counted = [
            f"{name}: {pages} page{'s' if pages > 1 else ''} of {paper}"
            for name, pages, paper in zip(self.files, self.pages, self.papers, strict=True)
        ]
        return [
            *self.said,
            f"Guides in {self.out}:",
            *(f"  {line}" for line in counted),
            "Print at 100 %, not fitted to the page; the bar on it must measure 100 mm.",
            "Sharp blade: cut away from your fingers, on a cutting mat.",
        ]


def guide(order: GuideOrder, progress: Progress | None = None) -> GuideResult:
    """Return what was written; ``progress`` is told before each piece.

    Raises InputError for what cannot be understood, GeometryError for what cannot be made, FileError when the folder
    refuses.
    """
    page = page_asked(order)
    made = [grid_of(order, page)] if order.is_grid else piece_guides(order, page, progress)
    names = [f"guide-{one.guide.title}.pdf" for one in made]
    batches = [
        PieceFiles(name, (OutFile(name, to_pdf(guide_pages(one.guide), one.guide.title)),))
        for name, one in zip(names, made, strict=True)
    ]
    folder = OutFolder.open(order.out, force=order.replaces_foreign)
    folder.claim(names)
    folder.finish([folder.put(batch) for batch in batches], {"frameforge": __version__})
    said = tuple(line for one in made for line in one.said)
    pages, papers = tuple(one.guide.tiling.pages for one in made), tuple(one.paper.name for one in made)
    return GuideResult(order.out.resolve(), tuple(names), pages, said, papers)
