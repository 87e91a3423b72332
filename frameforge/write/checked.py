"""Texts that were read back and found to hold what they should; nothing else is given out to be written."""

from __future__ import annotations

from collections.abc import Iterable

from frameforge.errors import FrameforgeError
from frameforge.write.check_dxf import check_dxf
from frameforge.write.check_svg import check_svg
from frameforge.write.compare import PageLines
from frameforge.write.dxf import DxfStyle, to_dxf
from frameforge.write.dxf_place import DxfUnit
from frameforge.write.page import CutPage, LineKind
from frameforge.write.svg import to_svg

__all__ = ["checked_dxf", "checked_svg"]


def checked_svg(
    page: CutPage,
    *,
    recipe: str = "",
    one_path: bool = False,
    kinds: Iterable[LineKind] | None = None,
    lines: PageLines | None = None,
) -> str:
    """Return what ``to_svg`` writes, after ``check_svg`` found nothing wrong with it.

    ``lines`` is ``measured_page(page)``, when several files of one page are written.
    Raises FrameforgeError, our own fault, when the text breaks the output contract.
    """
    wanted = None if kinds is None else tuple(kinds)
    text = to_svg(page, recipe=recipe, one_path=one_path, kinds=wanted)
    _refuse("SVG", page, check_svg(text, page, recipe=recipe, one_path=one_path, kinds=wanted, lines=lines))
    return text


def checked_dxf(
    page: CutPage,
    *,
    recipe: str = "",
    style: DxfStyle = "bulges",
    unit: DxfUnit = "mm",
    lines: PageLines | None = None,
) -> str:
    """Return what ``to_dxf`` writes, after ``check_dxf`` found nothing wrong with it.

    ``lines`` is ``measured_page(page)``, when several files of one page are written.
    Raises FrameforgeError, our own fault, when the text breaks the output contract.
    """
    text = to_dxf(page, recipe=recipe, style=style, unit=unit)
    _refuse("DXF", page, check_dxf(text, page, recipe=recipe, style=style, unit=unit, lines=lines))
    return text


def _refuse(name: str, page: CutPage, violations: tuple[str, ...]) -> None:
    """Raise our own fault when there are violations."""
    if violations:
        more = f", and {len(violations) - 1} more" if len(violations) > 1 else ""
        say = f"the {name} text does not hold the piece ({violations[0]}{more}), so it was not written."
        raise FrameforgeError(say, where=page.title, code="own-fault")
