"""The bare grid: spokes for a count, circles, and where a given motif or foot closes."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any, Final

from frameforge.errors import InputError
from frameforge.frame.fit import default_gap_mm, fit_row
from frameforge.frame.spec import Size
from frameforge.frame.wording import plural
from frameforge.job.fit_question import FitOrder, read_question
from frameforge.job.guide_order import GUIDE, GuideOrder, MadeGuide, PageAsked, parted
from frameforge.picture.paper.guide_grid import GridTaker, grid_guide
from frameforge.picture.paper.guide_steps import grid_steps
from frameforge.units import format_both, format_deg, format_floor, is_in_inches, parse_size_mm

__all__ = ["grid_of"]

MM_STEP: Final = 10.0
INCH_STEP_MM: Final = 12.7
"""Circles of the grid: every 10 mm, or every half inch for those who type inches."""

_MOST_SPOKES: Final = 360
_LABELS_MM: Final = 26.0
_LEAST_MM: Final = 20.0
_MOST_MM: Final = 1500.0
"""A larger grid would take hundreds of pages."""


def grid_of(order: GuideOrder, page: PageAsked) -> MadeGuide:
    """Return the grid. Raises InputError for what cannot be understood, GeometryError where no circle takes them."""
    options = {key: value for key, value in order.options.items() if value not in (None, False, (), [])}
    if order.recipe is not None:
        raise InputError("a grid takes no recipe. Leave it out, or leave out --grid.", where=f"{GUIDE}, --grid")
    count = _count(options)
    in_inches = any(is_in_inches(str(options.get(key, ""))) for key in ("size", "foot", "gap"))
    taker = _taker(order, options, count)
    size = _size_mm(options, page, taker)
    step = INCH_STEP_MM if in_inches else MM_STEP
    drawing = grid_guide(count, size, step, "in" if in_inches else "mm", taker)
    said = [f"{count} spokes, one every {format_deg(360 / count)}, on a grid {format_both(size)} across."]
    said.append(f"A circle every {'half inch' if in_inches else '10 mm'} from the middle.")
    if taker is not None:
        said.append(f"Dashed: a circle of {format_both(taker.size_mm)}, where {taker.words}, close evenly.")
    steps = partial(grid_steps, said, has_taker=taker is not None)
    return parted(f"grid-{count}-spokes", drawing, tuple(said), lambda is_tiled: steps(is_tiled=is_tiled), page)


def _count(options: Mapping[str, Any]) -> int:
    """Return the number of spokes."""
    given = str(options.get("count", "")).strip()
    if not given:
        raise InputError(
            "how many spokes? Add --count, for example --count 8.", where=f"{GUIDE}, --grid", code="no-count"
        )
    if not given.isdecimal() or not 2 <= int(given) <= _MOST_SPOKES:
        say = f"a grid takes 2 to {_MOST_SPOKES} spokes. Write a whole number in between."
        raise InputError(say, where=f"{GUIDE}, --count {given}", code="range")
    return int(given)


def _taker(order: GuideOrder, options: Mapping[str, Any], count: int) -> GridTaker | None:
    """Return the circle that takes ``count`` of the motif or foot given; None where none is."""
    if "motif" not in options and "foot" not in options:
        return None
    asked = {key: value for key, value in options.items() if key not in ("size", "count")}
    question = read_question(FitOrder({**asked, "count": (str(count),)}, Path(), order.motifs, order.is_lenient))
    model = question.model
    gap = question.stated_gap_mm
    row = model.row
    wanted = default_gap_mm(model) if gap is None else gap
    is_foot_gap = question.is_bare or row.foot_gap_mm is not None
    row = replace(row, count=count, gap_mm=None if is_foot_gap else wanted, foot_gap_mm=wanted if is_foot_gap else None)
    fit = fit_row(replace(model, spec=replace(model.spec, size="find", rows=(row,)), row=row), None)
    ornament = row.pattern[0]
    foot = ornament.motif.foot_mm * ornament.scale * fit.scale
    name = plural("foot" if question.is_bare else ornament.motif.name, count)
    return GridTaker(f"{count} {name}, gap {format_floor(wanted)}", fit.size.width_mm, foot)


def _size_mm(options: Mapping[str, Any], page: PageAsked, taker: GridTaker | None) -> float:
    """Return the diameter of the grid: as asked, or the largest that goes on the page, and on it what is marked."""
    if "size" in options:
        given = str(options["size"])
        where = f'{GUIDE}, --size "{given}"'
        try:
            width, height = parse_size_mm(given)
        except InputError as fault:
            raise InputError(fault.say, where=where, code=fault.code) from fault
        if width != height:
            say = "a grid is round; its spokes would be uneven on an oval. Print the oval's own guide without --grid."
            raise InputError(say, where=where, code="oval")
        if not _LEAST_MM <= width <= _MOST_MM:
            say = f"a grid is {_LEAST_MM:g} to {_MOST_MM:g} mm across. Write --size 200mm."
            raise InputError(say, where=where, code="range")
        return Size(width, height).width_mm
    largest = math.floor((page.room_mm[0] - _LABELS_MM) / 10) * 10.0
    return max(largest, math.ceil(taker.size_mm / 10) * 10.0) if taker else largest
