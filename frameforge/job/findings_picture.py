"""The pictures of a cut file that was looked at, as SVG and PNG."""

from __future__ import annotations

from frameforge.finding import grouped
from frameforge.job.checked_file import CheckedFile
from frameforge.job.pictures import png_picture
from frameforge.picture.piece import PieceDrawing, piece_picture
from frameforge.units import format_size
from frameforge.write.marker import marked_svg
from frameforge.write.out_folder import OutFile

__all__ = ["findings_pictures"]


def findings_pictures(file: CheckedFile, name: str) -> tuple[OutFile, ...]:
    """Return ``name``.check.svg and .check.png of the card a file leaves and of its open lines, findings ringed."""
    regions = file.mended.regions if file.mended is not None else file.file.regions
    loose = tuple(line.segments for line in file.file.drawing.lines if not line.is_closed or not regions)
    size = format_size(file.file.box.width_mm, file.file.box.height_mm)
    svg = piece_picture(PieceDrawing(file.name, regions, None, (f"{size} across",), grouped(file.findings), loose))
    return OutFile(f"{name}.check.svg", marked_svg(svg)), OutFile(f"{name}.check.png", png_picture(svg))
