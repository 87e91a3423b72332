"""The page's commonest question: this recipe, changed so, what does it come to?"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

from frameforge.desk.blanks import sentences_of
from frameforge.desk.change import RECIPE_NAME, Change, changed_text, checked
from frameforge.desk.drawing import drawn_piece
from frameforge.desk.fallen import fallen_pieces
from frameforge.desk.fonts import check_fonts
from frameforge.desk.made_pieces import known_pieces
from frameforge.desk.offer_place import offer_at
from frameforge.desk.offers import message_parts
from frameforge.desk.origin import origin_values
from frameforge.desk.question import Tell, untold
from frameforge.desk.writes import writes_of
from frameforge.errors import FrameforgeError, InputError
from frameforge.job.looking import looking_first
from frameforge.job.made import MadePiece
from frameforge.job.make import built
from frameforge.job.motif_source import MotifSource
from frameforge.recipe.recipe import Recipe, parse_toml
from frameforge.recipe.slips import slip_lines

__all__ = ["refusal", "see"]

_LEAST_PX: Final = 280.0
_GREATEST_PX: Final = 720.0


def see(question: dict[str, Any], source: MotifSource, tell: Tell = untold) -> dict[str, Any]:
    """Return the recipe after the change, what stands in the blanks, and every piece drawn or why there is none.

    ``question`` holds recipe (text), options, leave_out and at (the change), width (px). What cannot be understood
    leaves the recipe as it was; what cannot be made keeps the change, as it is what was asked, and ``fallen`` holds
    the pieces that would fall apart.
    """
    text = str(question["recipe"])
    change = Change(question.get("options") or {}, question.get("leave_out") or (), str(question.get("at", "")))
    try:
        text = changed_text(text, change)
        recipe = checked(text)
    except InputError as fault:
        return {"recipe": text, "is_changed": False, **refusal(fault, tells_lines=not change)}
    known = {"recipe": text, "is_changed": True, "sentences": sentences_of(parse_toml(text, RECIPE_NAME))}
    known["writes"] = writes_of(recipe)
    width = min(max(float(question.get("width") or _LEAST_PX), _LEAST_PX), _GREATEST_PX)
    try:
        pieces, is_judged = _looked_at(text, recipe, source, tell)
    except FrameforgeError as fault:
        said = refusal(fault, tells_lines=len(recipe.pieces) > 1, raw=recipe.raw)
        return {**known, **said, "fallen": fallen_pieces(fault, recipe, width)}
    drawn = [{**drawn_piece(made, width), **origin_values(made)} for made in pieces]
    presets = ", ".join(dict.fromkeys(made.preset.name for made in pieces))
    return {**known, "pieces": drawn, "is_judged": is_judged, "notes": [*slip_lines(recipe), f"Limits of {presets}."]}


def _looked_at(text: str, recipe: Recipe, source: MotifSource, tell: Tell) -> tuple[Sequence[MadePiece], bool]:
    """Return the pieces of a recipe to look at, and whether it is known what is found in them."""
    known = known_pieces(text, source)
    if known is not None:
        return known, True
    check_fonts(recipe, source.beside)
    with looking_first():
        return built(recipe, source, tell), False


def refusal(fault: FrameforgeError, *, tells_lines: bool, raw: Mapping[str, Any] | None = None) -> dict[str, Any]:
    """Return what is said of a fault, its lines taken apart; offers go to the piece and row of ``raw`` they are of."""
    lines = [
        message_parts(line, tells_lines=tells_lines, at=offer_at(line, raw) if raw else None) for line in fault.lines
    ]
    return {"refused": lines, "code": fault.code}
