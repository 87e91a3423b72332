"""A cut file of any make mended, and written again as a clean one."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path

from frameforge.card.preset import Preset
from frameforge.check.open_line import find_open_lines
from frameforge.check.whole import check_piece
from frameforge.job.checked_file import CheckedFile
from frameforge.job.cut_file import CutFile
from frameforge.mend.whole import mend_piece
from frameforge.write.checked import checked_dxf, checked_svg
from frameforge.write.out_folder import OutFile
from frameforge.write.page import CutPage, CutPiece

__all__ = ["mended_file", "written_file"]


def mended_file(shown: str, path: Path, file: CutFile, preset: Preset, codes: Collection[str]) -> CheckedFile:
    """Return a file with its card mended under the limits of ``preset``, and what is still found in it.

    Lines that lie there twice or cross are gone once the card is written anew; open lines bound no card and are lost,
    so they stay findings.
    """
    mended = mend_piece(file.regions, preset, codes, joins_parts=False)
    opened = find_open_lines([line.segments for line in file.drawing.lines])
    left = (*opened, *check_piece(mended.regions, preset, falls_apart="warning"))
    return CheckedFile(shown, path.stem, file, preset, left, mended)


def written_file(file: CheckedFile, name: str) -> OutFile:
    """Return the mended card as a cut file of the kind that was read, .svg or .dxf, each part one path, read back."""
    assert file.mended is not None
    parts = file.mended.regions
    names = [name] if len(parts) == 1 else [f"{name}-{number}" for number in range(1, len(parts) + 1)]
    page = CutPage(name, tuple(CutPiece(name, region) for name, region in zip(names, parts, strict=True)))
    if Path(file.shown).suffix.lower() == ".dxf":
        return OutFile(f"{name}.dxf", checked_dxf(page).encode("ascii"))
    return OutFile(f"{name}.svg", checked_svg(page).encode("utf-8"))
