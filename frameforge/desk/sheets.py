"""The questions about sheets: how the pieces lie, what moving one comes to, how near it is while it is moved."""

from __future__ import annotations

import json
import math
from collections import OrderedDict
from collections.abc import Mapping, Sequence
from typing import Any, Final

from frameforge.desk.asked import number_of, width_of
from frameforge.desk.change import RECIPE_NAME, checked
from frameforge.desk.made_pieces import made_pieces
from frameforge.desk.on_sheets import OnSheets, SheetHeld, laid_by_search, laid_tables, on_sheets
from frameforge.desk.paths import refuse_paths
from frameforge.desk.question import Tell
from frameforge.desk.recipe_text import recipe_text
from frameforge.desk.see import refusal
from frameforge.desk.sheet_drawing import drawn_sheets, sheet_scale, to_sheet_px
from frameforge.desk.sheet_terms import sheet_terms
from frameforge.errors import FrameforgeError, InputError
from frameforge.job.motif_source import MotifSource
from frameforge.recipe.model import LaidTable
from frameforge.recipe.recipe import parse_toml
from frameforge.recipe.sheets_asked import asks_for_sheets
from frameforge.sheet.nearness import Near, nearest_edge
from frameforge.sheet.verify import LEEWAY_MM
from frameforge.units import format_floor

__all__ = ["moved", "near", "sheets"]

_MOST: Final = 4
_kept: OrderedDict[tuple[str, str, str], OnSheets] = OrderedDict()
"""Sheets that were asked about last, by recipe, folder and places."""

_DIGITS: Final = 2


def sheets(question: dict[str, Any], source: MotifSource, tell: Tell) -> dict[str, Any]:
    """Return all sheets of a recipe, laid where it says and else by the placer, drawn ``width`` px wide.

    Pieces that the recipe says lie too near are drawn and told. What no sheet takes is refused, ``terms`` beside it.
    Raises what the command raises for pieces that cannot be made.
    """
    recipe, pieces = made_pieces(str(question["recipe"]), source)
    try:
        held = laid_by_search(recipe, pieces, source, tell)
    except FrameforgeError as fault:
        return {**refusal(fault, tells_lines=False), "terms": sheet_terms(recipe)}
    return _answer(held, question)


def moved(question: dict[str, Any], source: MotifSource) -> dict[str, Any]:
    """Return the recipe with one piece moved, and its sheets.

    ``laid`` holds the places as ``sheets`` gave them; ``row`` is the piece; ``clear`` lets a clear place be looked for,
    else ``sheet`` (a number from 0, none: a new one), ``x``, ``y`` (px) and ``turn`` (deg, clockwise) say its place.
    Raises InputError where one of these is missing or is no such thing.
    """
    text = str(question["recipe"])
    held = _held(text, question, source)
    row = number_of(question, "row", len(held.tables)) or 0
    if question.get("clear"):
        tables = held.cleared(row)
        if tables is None:
            say = "no place near by is clear. Move it to another sheet, or let the pieces be laid anew."
            raise InputError(say, where=held.name_of(row), code="no-room")
    else:
        sheet, middle, turn = _asked_place(held, row, question)
        tables = held.moved(row, sheet, middle, turn)
    changed = _with_places(text, tables)
    # The pieces and their sheets are the same, so that nothing is made anew.
    after = OnSheets(checked(changed), held.groups, tables, held)
    _keep((changed, str(source.beside), _laid_key(laid_tables(tables))), after)
    return {"recipe": changed, **_answer(after, question)}


def near(question: dict[str, Any], source: MotifSource) -> dict[str, Any]:
    """Return how near a piece would lie to the next one and to the edge; nothing is changed.

    It is asked as ``moved`` is. Raises InputError likewise.
    """
    held = _held(str(question["recipe"]), question, source)
    row = number_of(question, "row", len(held.tables)) or 0
    sheet, middle, turn = _asked_place(held, row, question)
    if sheet is None:
        return {"words": "", "is_clear": True, "marks": []}
    piece = held.body(row, middle, turn)
    own = sheet.rows.index(row) if row in sheet.rows else None
    of = sheet.laid.sheet
    found = [(nearest_edge(piece, of), of.margin_mm, "the edge")]
    beside = sheet.neighbours.nearest(piece, own)
    if beside is not None and beside.other is not None:
        found.insert(0, (beside, of.apart_mm, held.name_of(sheet.rows[beside.other])))
    to_px = to_sheet_px(sheet, sheet_scale(held, width_of(question)))
    marks = [
        {
            "x1": round(to_px.apply(one.at).real, _DIGITS), "y1": round(to_px.apply(one.at).imag, _DIGITS),
            "x2": round(to_px.apply(one.other_at).real, _DIGITS), "y2": round(to_px.apply(one.other_at).imag, _DIGITS),
            "is_clear": _is_clear(one, wanted), "r": round(max(wanted * to_px.greatest_stretch / 2, 9.0), _DIGITS),
            "words": format_floor(max(one.gap_mm, 0.0)),
        }
        for one, wanted, _ in found
    ]  # fmt: skip
    said = [_words(one, wanted, name) for one, wanted, name in found]
    return {
        "words": f"{held.name_of(row)}: {'; '.join(said)}.",
        "is_clear": all(_is_clear(one, wanted) for one, wanted, _ in found),
        "marks": marks,
    }


def _is_clear(one: Near, wanted_mm: float) -> bool:
    return not one.is_over and one.gap_mm >= wanted_mm - LEEWAY_MM


def _words(one: Near, wanted_mm: float, name: str) -> str:
    """Return a distance in words: "1.24 mm from badge 2, 3 mm wanted"."""
    if one.is_over:
        return f"lies over {name}"
    if one.gap_mm < 0:
        return f"reaches {format_floor(-one.gap_mm)} over the edge"
    said = f"{format_floor(one.gap_mm)} from {name}"
    return said if _is_clear(one, wanted_mm) else f"{said}, {format_floor(wanted_mm)} wanted"


def _answer(held: OnSheets, question: Mapping[str, Any]) -> dict[str, Any]:
    recipe = held.recipe
    said = recipe.tables.sheets
    return {
        **drawn_sheets(held, width_of(question)),
        "is_stated": bool(said and said.laid),
        "is_asked": asks_for_sheets(recipe),
        "turn_step": {"quarter": 90, "half": 180, "none": 0}.get(held.search.turn, 1),
        "terms": sheet_terms(recipe),
    }


def _held(text: str, question: Mapping[str, Any], source: MotifSource) -> OnSheets:
    """Return the sheets that a question is about, kept from the question before where they are the same."""
    laid = question.get("laid")
    key = text, str(source.beside), _laid_key(laid)
    if key in _kept:
        _kept.move_to_end(key)
        return _kept[key]
    recipe, pieces = made_pieces(text, source)
    held = on_sheets(recipe, pieces, source, laid)
    _keep(key, held)
    return held


def _laid_key(laid: object) -> str:
    return json.dumps(laid, sort_keys=True)


def _keep(key: tuple[str, str, str], held: OnSheets) -> None:
    _kept[key] = held
    while len(_kept) > _MOST:
        _kept.popitem(last=False)


def _asked_place(held: OnSheets, row: int, question: Mapping[str, Any]) -> tuple[SheetHeld | None, complex, float]:
    """Return the sheet (None: a new one), the middle in mm, and the turn that a question asks for."""
    values = [question.get(key, 0) for key in ("x", "y", "turn")]
    if any(isinstance(v, bool) or not isinstance(v, (int, float)) or not math.isfinite(v) for v in values):
        raise InputError("the place cannot be read. Load the page again.", where="desk, x", code="number")
    x, y, turn = map(float, values)
    number = number_of(question, "sheet", len(held.sheets))
    sheet = None if number is None else held.sheets[number]
    old = held.sheet_of(row)
    if sheet is not None and sheet.group != old.group:
        raise InputError("it is not cut from this card or sheet.", where=held.name_of(row), code="other-card")
    step = {"quarter": 90.0, "half": 180.0, "none": 360.0}.get(held.search.turn)
    if step is not None and abs(math.remainder(turn, step)) > 1e-6:
        say = f'by turn = "{held.search.turn}" it may not be turned so. Let pieces turn freely to do it.'
        raise InputError(say, where=held.name_of(row), code="turn")
    scale = sheet_scale(held, width_of(question))
    middle = to_sheet_px(sheet or old, scale).inverse().apply(complex(x, y))
    return sheet, held.stepped(row, middle), turn


def _with_places(text: str, tables: Sequence[LaidTable]) -> str:
    """Return the recipe with the places of its pieces in it."""
    raw = parse_toml(text, RECIPE_NAME)
    refuse_paths(raw)
    unit = str(raw.get("units", "mm"))
    changed = recipe_text({**raw, "sheets": {**raw.get("sheets", {}), "laid": laid_tables(tables, unit)}})
    checked(changed)
    return changed
