"""A cut file of any make mended, and written again as a clean one."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from pathlib import Path

from frameforge.card.preset import Preset
from frameforge.check.lost_line import find_lost_lines
from frameforge.check.open_line import find_open_lines
from frameforge.check.whole import check_piece
from frameforge.job.checked_file import CheckedFile
from frameforge.job.cut_file import CutFile, enclosed
from frameforge.job.naming import file_stem
from frameforge.mend.close_up import Strand, closed_up, without_doubled
from frameforge.mend.patch import Change
from frameforge.mend.whole import mend_piece
from frameforge.read.cut_drawing import FileLine, chained
from frameforge.write.checked import checked_dxf, checked_svg
from frameforge.write.out_folder import OutFile
from frameforge.write.page import CutPage, CutPiece

__all__ = ["mended_file", "written_file"]


def mended_file(shown: str, path: Path, file: CutFile, preset: Preset, codes: Collection[str]) -> CheckedFile:
    """Return a file with its card mended under the limits of ``preset``, and what is still found in it.

    Lines are put in order first: of two that lie in one another one is taken out, and open ends that all but meet are
    joined. Open lines that are left bound no card and are lost, and so is a line along which two pieces touch, since
    they become one: both stay findings.
    """
    lines, ordered = _in_order(file, codes)
    regions = enclosed(lines) if ordered else file.regions
    mended = mend_piece(regions, preset, codes, joins_parts=False)
    opened = find_open_lines(lines)
    lost = find_lost_lines(lines, mended.regions)
    left = (*opened, *lost, *check_piece(mended.regions, preset, falls_apart="warning"))
    mended = replace(mended, changes=(*ordered, *mended.changes))
    left_out = sum(line[0].start != line[-1].end for line in lines)
    return CheckedFile(shown, file_stem(path.stem), file, preset, left, mended, left_out=left_out)


def _in_order(file: CutFile, codes: Collection[str]) -> tuple[tuple[Strand, ...], tuple[Change, ...]]:
    """Return the lines of a file with doubled ones taken out and open ends joined, as asked, and what was changed."""
    lines: tuple[Strand, ...] = tuple(line.segments for line in file.drawing.lines)
    changes: tuple[Change, ...] = ()
    if "double-line" in codes:
        once = without_doubled(lines)
        changes += tuple(Change("double-line", at, 0.0, 0.0) for at in once.places)
        # Where a third end lay nobody knew which two belonged together; now it may be plain.
        lines = tuple(line.segments for line in chained([FileLine(line) for line in once.lines]))
    if "open-line" in codes:
        joined = closed_up(lines)
        changes += tuple(Change("open-line", at, 0.0, 0.0) for at in joined.places)
        lines = joined.lines
    return lines, changes


def written_file(file: CheckedFile, name: str) -> OutFile:
    """Return the mended card as a cut file of the kind that was read, .svg or .dxf, each part one path, read back."""
    assert file.mended is not None
    parts = file.mended.regions
    names = [name] if len(parts) == 1 else [f"{name}-{number}" for number in range(1, len(parts) + 1)]
    page = CutPage(name, tuple(CutPiece(name, region) for name, region in zip(names, parts, strict=True)))
    if Path(file.shown).suffix.lower() == ".dxf":
        return OutFile(f"{name}.dxf", checked_dxf(page).encode("ascii"))
    return OutFile(f"{name}.svg", checked_svg(page).encode("utf-8"))
