"""All cut files of one page, read back and found good."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from frameforge.write.checked import checked_dxf, checked_svg
from frameforge.write.compare import PageLines, measured_page
from frameforge.write.dxf import DxfStyle
from frameforge.write.dxf_place import DxfUnit
from frameforge.write.formats import CUT_FORMATS, CutFormat
from frameforge.write.out_folder import OutFile
from frameforge.write.page import LINE_KINDS, CutPage, LineKind

__all__ = ["FileOptions", "cut_data", "cut_files"]

_ONLY: Final[Mapping[str, tuple[LineKind, ...] | None]] = {
    "svg": None,
    **{f"{kind}.svg": (kind,) for kind in LINE_KINDS},
}
"""Which lines each kind of SVG holds, None: all. Many cutters look at no groups, and would cut a mark or a crease
through."""


@dataclass(frozen=True, slots=True)
class FileOptions:
    """How cut files are written: formats, the DXF's style and unit, one path for all pieces, a file for each kind."""

    formats: tuple[CutFormat, ...] = CUT_FORMATS
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
    lines, of_lines = measured_page(page), page.kinds()
    split = tuple(f"{kind}.svg" for kind in of_lines) if options.split_kinds and len(of_lines) > 1 else ()
    kinds = [kind for asked in options.formats for kind in ((asked, *split) if asked == "svg" else (asked,))]
    return tuple(OutFile(f"{name}.{kind}", cut_data(kind, page, options, recipe=recipe, lines=lines)) for kind in kinds)


def cut_data(
    kind: str, page: CutPage, options: FileOptions, *, recipe: str = "", lines: PageLines | None = None
) -> bytes:
    """Return one cut file of the page: "svg", "dxf", or an SVG of one kind of line such as "crease.svg".

    ``lines`` is ``measured_page(page)``, when several files of one page are written. Raises KeyError for a kind that is
    no cut file, and FrameforgeError, our own fault, when the text breaks the output contract.
    """
    if kind == "dxf":
        dxf = checked_dxf(page, recipe=recipe, style=options.dxf, unit=options.dxf_unit, lines=lines)
        return dxf.encode("ascii")
    svg = checked_svg(page, recipe=recipe, one_path=options.one_path, kinds=_ONLY[kind], lines=lines)
    return svg.encode("utf-8")
