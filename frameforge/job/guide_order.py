"""What a guide is asked for: a recipe or options, the page, and for a bare grid its spokes."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from frameforge.card.sheet_size import A4, SheetSize, parse_sheet
from frameforge.errors import InputError
from frameforge.picture.paper.marks import Marks
from frameforge.picture.paper.pages import EDGE_MM, Guide, put_together
from frameforge.units import parse_length_mm

__all__ = ["GUIDE", "LEAST_PAGE_MM", "GuideOrder", "MadeGuide", "PageAsked", "page_asked", "parted"]

GUIDE: Final = "guide"

LEAST_PAGE_MM: Final = (125.0, 160.0)
"""Smaller pages have no room for the bar, the square and the steps."""

USUAL_OVERLAP_MM: Final = 10.0
_MOST_OVERLAP_MM: Final = 60.0
_WAYS: Final = ("landscape", "portrait", "upright", "lying")


@dataclass(frozen=True, slots=True)
class GuideOrder:
    """What was typed: a recipe file or None, options by key, where files go, how foreign files are treated."""

    recipe: Path | None
    options: Mapping[str, Any]
    out: Path
    page: str | None = None
    overlap: str | None = None
    is_grid: bool = False
    motifs: Path | None = None
    is_lenient: bool = False
    replaces_foreign: bool = False


@dataclass(frozen=True, slots=True)
class PageAsked:
    """The paper, as it may lie, and how far pages overlap, mm."""

    papers: tuple[SheetSize, ...]
    overlap_mm: float

    @property
    def paper(self) -> SheetSize:
        """The paper as it was named."""
        return self.papers[0]

    @property
    def room_mm(self) -> tuple[float, float]:
        """Width and height that can be printed on."""
        return _room_mm(self.paper)


@dataclass(frozen=True, slots=True)
class MadeGuide:
    """A guide put together, what is said of it, and the paper as it lies."""

    guide: Guide
    said: tuple[str, ...]
    paper: SheetSize


def page_asked(order: GuideOrder) -> PageAsked:
    """Return the page. Raises InputError for a size or an overlap that cannot be."""
    paper = A4
    if order.page is not None:
        where = f'{GUIDE}, --page "{order.page}"'
        try:
            paper = parse_sheet(order.page)
        except InputError as fault:
            raise InputError(fault.say, where=where, code=fault.code) from fault
        if paper.width_mm < LEAST_PAGE_MM[0] or paper.height_mm < LEAST_PAGE_MM[1]:
            least = "125 x 160 mm"
            say = f"too small for the measuring bar and the steps, which need {least}. Take A4, Letter or A5."
            raise InputError(say, where=where, code="range")
    is_turned = order.page is not None and any(word in order.page.lower() for word in _WAYS)
    turned = paper.landscape() if paper.width_mm < paper.height_mm else paper.portrait()
    fits = turned.width_mm >= LEAST_PAGE_MM[0] and turned.height_mm >= LEAST_PAGE_MM[1]
    papers = (paper,) if is_turned or turned == paper or not fits else (paper, turned)
    return PageAsked(papers, _overlap_mm(order.overlap))


def parted(
    title: str, drawing: Marks, said: tuple[str, ...], steps: Callable[[bool], Sequence[str]], page: PageAsked
) -> MadeGuide:
    """Return the guide on as few pages as the paper gives, upright or lying; ``steps`` are told whether it has many."""
    made = []
    for paper in page.papers:
        room = _room_mm(paper)
        guide = put_together(title, drawing, steps(False), room, page.overlap_mm)
        if guide.tiling.pages > 1:
            guide = put_together(title, drawing, steps(True), room, page.overlap_mm)
        made.append(MadeGuide(guide, said, paper))
    return min(made, key=lambda one: one.guide.tiling.pages)


def _room_mm(paper: SheetSize) -> tuple[float, float]:
    """Return width and height of a paper inside its white edge."""
    return paper.width_mm - 2 * EDGE_MM, paper.height_mm - 2 * EDGE_MM


def _overlap_mm(given: str | None) -> float:
    """Return how far pages overlap."""
    if given is None:
        return USUAL_OVERLAP_MM
    where = f'{GUIDE}, --overlap "{given}"'
    try:
        overlap = parse_length_mm(given)
    except InputError as fault:
        raise InputError(fault.say, where=where, code=fault.code) from fault
    if not 0 <= overlap <= _MOST_OVERLAP_MM:
        say = f"pages overlap by 0 to {_MOST_OVERLAP_MM:g} mm. Write --overlap 10mm."
        raise InputError(say, where=where, code="range")
    return overlap
