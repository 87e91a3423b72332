"""What is found in the pieces of a recipe: it takes longer than to draw them, and comes after."""

from __future__ import annotations

from typing import Any

from frameforge.desk.asked import width_of
from frameforge.desk.change import checked
from frameforge.desk.drawing import found_in
from frameforge.desk.made_pieces import made_pieces
from frameforge.desk.question import Tell
from frameforge.desk.refused import refused
from frameforge.errors import FrameforgeError
from frameforge.job.motif_source import MotifSource

__all__ = ["findings"]


def findings(question: dict[str, Any], source: MotifSource, tell: Tell) -> dict[str, Any]:
    """Return, piece by piece, what of its drawing rests on its findings; or the refusal that they come to.

    ``question`` holds recipe and width (px), as they were seen. Raises InputError for a recipe that cannot be read.
    """
    text = str(question["recipe"])
    recipe = checked(text)
    try:
        pieces = made_pieces(text, source, tell)[1]
    except FrameforgeError as fault:
        return refused(fault, recipe, source, width_of(question))
    return {"pieces": [found_in(made, width_of(question)) for made in pieces]}
