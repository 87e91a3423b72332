"""From pieces to files: texts checked, pictures drawn, a report, and all of it put into the folder together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from frameforge import __version__
from frameforge.job.made import Made, MadePiece
from frameforge.job.report import report_of
from frameforge.recipe.model import FilesTable
from frameforge.write.compare import measured_page
from frameforge.write.cut_files import FileOptions, cut_data
from frameforge.write.formats import CUT_FORMATS, FORMATS
from frameforge.write.out_folder import OutFile, OutFolder, PieceFiles
from frameforge.write.page import LINE_KINDS, CutPage, CutPiece, LineKind
from frameforge.write.report import report_text

if TYPE_CHECKING:
    from frameforge.job.laid_sheet import SheetsMade

__all__ = ["AS_CUT", "STACK", "Extra", "cut_piece", "file_options", "kinds_of", "piece_files", "versions", "write_run"]

AS_CUT = ("as-cut.svg", "as-cut.png")
"""Pictures of the card left, written where they are asked for."""

STACK = "stack.png"
"""The picture of a stack of cards, written with the pictures of its cards."""

_REPORT = "report.md"


@dataclass(frozen=True, slots=True)
class Extra:
    """A file of a run that belongs to no piece, such as a picture of them all."""

    name: str
    data: bytes


def kinds_of(files: FilesTable, *lines: LineKind) -> tuple[str, ...]:
    """Return the kinds of file of a piece: those asked for, and an SVG for each kind of line where there are several.

    ``lines`` are the kinds of line that it has beside its cuts.
    """
    formats = files.formats or FORMATS
    is_split = lines and files.split_kinds and "svg" in formats
    split = [f"{kind}.svg" for kind in LINE_KINDS if kind == "cut" or kind in lines] if is_split else []
    return (*formats, *split, *(AS_CUT if files.as_cut else ()))


def file_options(files: FilesTable) -> FileOptions:
    """Return how the cut files that a recipe asks for are written."""
    formats = tuple(kind for kind in CUT_FORMATS if kind in (files.formats or FORMATS))
    return FileOptions(formats, files.dxf, files.dxf_unit, files.one_path, files.split_kinds)


def piece_files(made: MadePiece, recipe: str, files: FilesTable) -> PieceFiles:
    """Return the files of one piece, every text read back and found sound.

    Raises FrameforgeError, our own fault, when a text does not hold what it should.
    """
    page = CutPage(made.name, (cut_piece(made),))
    lines, options = measured_page(page), file_options(files)
    found = []
    for kind, name in made.files.items():
        if kind in AS_CUT:
            from frameforge.job.pictures import as_cut_pictures  # here, as below

            data = as_cut_pictures(made)[kind]
        elif kind in ("png", STACK):
            from frameforge.job.pictures import piece_png, stack_png  # here: a run without pictures shall not load them

            data = stack_png(made) if kind == STACK else piece_png(made)
        else:
            data = cut_data(kind, page, options, recipe=recipe, lines=lines)
        found.append(OutFile(name, data))
    return PieceFiles(made.name, tuple(found))


def cut_piece(made: MadePiece) -> CutPiece:
    """Return the lines of a piece: its bare outlines, those of a set, or those that were planned for the machine; of
    card that lies face down their mirror image."""
    if made.bond is not None or made.plan is not None:
        region = made.plan.region if made.plan else made.piece.region
        lines = CutPiece(made.name, region, creases=made.creases, marks=made.marks, machine_cuts=made.lines_cut)
    else:
        lines = CutPiece(made.name, made.piece.region, creases=made.creases, marks=made.marks)
    return lines.turned_over() if made.is_flipped else lines


def write_run(
    out: Path,
    pieces: Sequence[tuple[MadePiece, PieceFiles]],
    extras: Sequence[Extra] = (),
    sheets: tuple[SheetsMade, tuple[PieceFiles, ...]] | None = None,
    *,
    force: bool,
    is_dxf_without_unit: bool,
) -> Made:
    """Return the run after its files were put into ``out``, run.json last. Raises FileError, and then wrote nothing
    over a file that is not ours."""
    made = tuple(piece for piece, _ in pieces)
    laid, of_sheets = sheets or (None, ())
    text = report_text(report_of(made, laid, is_dxf_without_unit=is_dxf_without_unit))
    report = OutFile(_REPORT, text.encode("utf-8"))
    others = [PieceFiles(extra.name, (OutFile(extra.name, extra.data),)) for extra in extras]
    batches = [*(files for _, files in pieces), *of_sheets, *others, PieceFiles(_REPORT, (report,))]
    folder = OutFolder.open(out, force=force)
    folder.claim(file.name for batch in batches for file in batch.files)
    folder.finish([folder.put(batch) for batch in batches], versions())
    more = (*(extra.name for extra in extras), _REPORT)
    return Made(out.resolve(), made, _REPORT, (*laid.told_files, *more) if laid else more, sheets=laid)


def versions() -> dict[str, str]:
    """Return what the bytes of the files depend on."""
    import shapely

    from frameforge.write.quiet_ezdxf import EZDXF_VERSION  # here, as above

    return {
        "frameforge": __version__,
        "shapely": shapely.__version__,
        "geos": shapely.geos_version_string,
        "ezdxf": EZDXF_VERSION,
    }
