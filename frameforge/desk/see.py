"""The page's commonest question: this recipe, changed so, what does it come to?"""

from __future__ import annotations

from typing import Any, Final

from frameforge.desk.blanks import blanks_of
from frameforge.desk.change import Change, changed_text, checked
from frameforge.desk.drawing import drawn_piece
from frameforge.desk.offers import message_parts
from frameforge.errors import FrameforgeError, InputError
from frameforge.job.make import built
from frameforge.job.motif_source import MotifSource
from frameforge.recipe.slips import slip_lines

__all__ = ["refusal", "see"]

_LEAST_PX: Final = 280.0
_GREATEST_PX: Final = 720.0


def see(question: dict[str, Any], source: MotifSource) -> dict[str, Any]:
    """Return the recipe after the change, what stands in the blanks, and every piece drawn or why there is none.

    ``question`` holds recipe (text), options and leave_out (the change), width (px). What cannot be understood leaves
    the recipe as it was; what cannot be made keeps the change, as it is what was asked.
    """
    text = str(question["recipe"])
    change = Change(question.get("options") or {}, question.get("leave_out") or ())
    try:
        text = changed_text(text, change)
        recipe = checked(text)
    except InputError as fault:
        return {"recipe": text, "is_changed": False, **refusal(fault, tells_lines=not change)}
    known = {"recipe": text, "is_changed": True, "blanks": blanks_of(recipe.raw)}
    try:
        pieces = built(recipe, source, lambda done, of, name: None)
    except FrameforgeError as fault:
        return {**known, **refusal(fault, tells_lines=len(recipe.pieces) > 1)}
    width = min(max(float(question.get("width") or _LEAST_PX), _LEAST_PX), _GREATEST_PX)
    drawn = [drawn_piece(made, width) for made in pieces]
    presets = ", ".join(dict.fromkeys(made.preset.name for made in pieces))
    return {**known, "pieces": drawn, "notes": [*slip_lines(recipe), f"Limits of {presets}."]}


def refusal(fault: FrameforgeError, *, tells_lines: bool) -> dict[str, Any]:
    """Return what is said of a fault, its lines taken apart."""
    lines = [message_parts(line, tells_lines=tells_lines) for line in fault.lines]
    return {"refused": lines, "code": fault.code}
