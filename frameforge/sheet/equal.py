"""Many copies of one design: rows and staggered rows, and for round ones discs let go from many starts."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely

from frameforge.geometry import boolean
from frameforge.geometry.flatten import flatten_outline, to_polygon
from frameforge.geometry.segment_table import Complexes
from frameforge.sheet.design import Design, Placed, Sheet
from frameforge.sheet.discs import spread_points
from frameforge.sheet.draft import Draft, Sheets, draft_from
from frameforge.sheet.filling import LEFT, Filler
from frameforge.sheet.raster import variants
from frameforge.sheet.rows import Pattern, row_patterns
from frameforge.sheet.stock import StockSheet, preferences
from frameforge.sheet.task import Task
from frameforge.sheet.turns import is_near_round
from frameforge.tolerances import TOUCH_MM

__all__ = ["equal_drafts"]

CELL_MM = 0.5
TRIES_A_ROUND = 150
"""Tries that stand for one round in which all starts of a count of discs are let go."""
FINE_MM = 1e-4
"""Chord distance of the outline round which the least circle is drawn."""
TURNS = 4
"""Turns at which rows of a design that is not round are tried; half a turn more gives the same rows upside down."""

_Turned = tuple[float, Pattern]


def equal_drafts(task: Task) -> list[Draft]:
    """Return layouts in rows and as discs when all pieces have one outline, whatever their openings; else none."""
    total = sum(design.copies for design in task.designs)
    if total < 2 or not _have_one_outline(task.designs):
        return []
    one = replace(task, designs=(replace(task.designs[0], copies=total),), turns=task.turns[:1])
    return [_named(draft, task.designs) for draft in _drafts(one)]


def _have_one_outline(designs: Sequence[Design]) -> bool:
    """Return whether all designs have the same outer outlines and may be turned alike."""
    first = _outer_points(designs[0])
    return all(
        design.turning == designs[0].turning
        and len(points := _outer_points(design)) == len(first)
        and bool(np.abs(points - first).max() < TOUCH_MM / 2)
        for design in designs[1:]
    )


def _outer_points(design: Design) -> Complexes:
    points = np.concatenate([flatten_outline(region.outer).points for region in design.regions])
    return points - design.box().center


def _named(draft: Draft, designs: Sequence[Design]) -> Draft:
    """Return the draft with the pieces given to the designs in their order."""
    names = iter([i for i, design in enumerate(designs) for _ in range(design.copies)])
    return replace(
        draft,
        sheets=tuple(
            (kind, tuple(replace(place, design=next(names)) for place in placed)) for kind, placed in draft.sheets
        ),
    )


def _drafts(task: Task) -> list[Draft]:
    """Return the layouts of copies of one design."""
    drafts = []
    for kinds in preferences(task.stock):
        begun, copies = _on_begun(task, [kind for kind in kinds if kind.used])
        new = [kind for kind in kinds if not kind.used]
        patterns = {kind: _patterns(task, kind.sheet) for kind in new}
        drafts.append(_filled(task, begun, copies, [(kind, patterns[kind]) for kind in new]))
        relaxed = _let_go(task, new, copies, patterns) if new else None
        if relaxed is not None:
            patterns[new[0]] = [*patterns[new[0]], relaxed]
            drafts.append(_filled(task, begun, copies, [(kind, patterns[kind]) for kind in new]))
    return [draft for draft in drafts if draft.sheets]


def _on_begun(task: Task, kinds: list[StockSheet]) -> tuple[Sheets, int]:
    """Return what goes on sheets that were cut from before, and how many copies are left."""
    (design,) = task.designs
    if not kinds:
        return (), design.copies
    filler = Filler(kinds, variants(task.designs, task.stock.apart_mm, CELL_MM, task.turns), CELL_MM)
    draft = draft_from("rows", filler, filler.fill([(0, LEFT)] * design.copies), task.stock)
    return draft.sheets, design.copies - draft.laid[0]


def _patterns(task: Task, sheet: Sheet) -> list[_Turned]:
    """Return the rows of a design at each of its turns."""
    (design,), (turns,) = task.designs, task.turns
    return [
        (turn, pattern)
        for turn in [turn for turn in turns if turn < 180][:TURNS]
        for pattern in row_patterns(design.turned(turn), sheet)
        if pattern.middles
    ]


def _filled(task: Task, begun: Sheets, copies: int, kinds: Sequence[tuple[StockSheet, list[_Turned]]]) -> Draft:
    """Return sheets in order of the kinds: the pattern that takes most, on the last sheet the one that is shortest."""
    sheets = list(begun)
    methods = [] if begun else ["rows"]
    for kind, patterns in kinds:
        if not patterns:
            continue
        index, number = task.stock.kinds.index(kind), 0
        fullest = max(patterns, key=lambda turned: (len(turned[1].middles), -turned[1].middles[-1].real))
        while copies and (kind.how_many is None or number < kind.how_many):
            count = min(copies, len(fullest[1].middles))
            enough = [turned for turned in patterns if len(turned[1].middles) >= count]
            turn, chosen = fullest if copies > count else min(enough, key=lambda t: _length(task.designs[0], t, count))
            sheets.append((index, tuple(Placed(0, 1, z.real, z.imag, turn) for z in chosen.middles[:count])))
            methods.append(chosen.method)
            copies, number = copies - count, number + 1
    method = max(methods[1:] or ["rows"], key=_RANK.index)
    return Draft(method, tuple(sheets))


_RANK = ["rows", "staggered rows", "discs let go"]


def _length(design: Design, turned: _Turned, count: int) -> float:
    turn, pattern = turned
    return pattern.middles[count - 1].real + design.box(turn).width_mm / 2


def _let_go(
    task: Task, new: Sequence[StockSheet], copies: int, patterns: dict[StockSheet, list[_Turned]]
) -> _Turned | None:
    """Return a sheet of the first kind that holds so many discs that one sheet less is needed, None if not found."""
    (design,), kind = task.designs, new[0]
    most = max((len(pattern.middles) for _, pattern in patterns[kind]), default=0)
    if task.budget.interrupted or not most or copies <= most or not is_near_round(design):
        return None
    sheets = math.ceil(copies / most) - 1
    circle, turn = _circle_round(design), task.turns[0][0]
    box, sheet = design.box(turn), kind.sheet
    width, height = (max(u - s, 0.0) for u, s in zip(sheet.usable_mm, (box.width_mm, box.height_mm), strict=True))
    points = spread_points(
        math.ceil(copies / sheets),
        width,
        height,
        circle + sheet.apart_mm,
        seed=task.seed,
        rounds=task.budget.tries // TRIES_A_ROUND + 1,
        keep_going=lambda: task.budget.goes_on(sheets, "discs let go"),
    )
    if points is None:
        return None
    corner = complex(sheet.margin_mm + box.width_mm / 2, sheet.margin_mm + box.height_mm / 2)
    middles = sorted((complex(z) + corner for z in points), key=lambda z: (z.real, z.imag))
    return turn, Pattern("discs let go", tuple(middles))


def _circle_round(design: Design) -> float:
    """Return the diameter of the least circle round a design."""
    outline = boolean.union([to_polygon(region, FINE_MM) for region in design.regions])
    return 2 * (float(shapely.minimum_bounding_radius(outline)) + FINE_MM)
