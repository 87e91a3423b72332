"""All cut files of one page, read back and found good."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from frameforge.write.checked import checked_dxf, checked_svg
from frameforge.write.compare import measured_page
from frameforge.write.dxf import DxfStyle
from frameforge.write.dxf_place import DxfUnit
from frameforge.write.out_folder import OutFile
from frameforge.write.page import CutPage

__all__ = ["CutFormat", "FileOptions", "cut_files"]

CutFormat = Literal["svg", "dxf"]


@dataclass(frozen=True, slots=True)
class FileOptions:
    """How cut files are written: formats, the DXF's style and unit, one path for all pieces, a file for each kind."""

    formats: tuple[CutFormat, ...] = ("svg", "dxf")
    dxf: DxfStyle = "bulges"
    dxf_unit: DxfUnit = "mm"
    one_path: bool = False
    split_kinds: bool = True


def cut_files(page: CutPage, name: str, options: FileOptions | None = None, *, recipe: str = "") -> tuple[OutFile, ...]:
    """Return ``name``.svg and ``name``.dxf of the page, as the options ask, each checked against the page.

    Where there are creases or marks, every kind of line also gets an SVG of its own on the same page, ``name``.cut.svg,
    ``name``.crease.svg, ...: many cutters ignore groups and would cut a crease through.
    Raises FrameforgeError, our own fault, when a text breaks the output contract.
    """
    options = options or FileOptions()
    lines = measured_page(page)
    files = []
    if "svg" in options.formats:
        kinds = page.kinds()
        svg = checked_svg(page, recipe=recipe, one_path=options.one_path, lines=lines)
        files.append(OutFile(f"{name}.svg", svg.encode("utf-8")))
        for kind in kinds if options.split_kinds and len(kinds) > 1 else ():
            svg = checked_svg(page, recipe=recipe, one_path=options.one_path, kinds=(kind,), lines=lines)
            files.append(OutFile(f"{name}.{kind}.svg", svg.encode("utf-8")))
    if "dxf" in options.formats:
        dxf = checked_dxf(page, recipe=recipe, style=options.dxf, unit=options.dxf_unit, lines=lines)
        files.append(OutFile(f"{name}.dxf", dxf.encode("ascii")))
    return tuple(files)
