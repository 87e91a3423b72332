"""``frameforge make``: a recipe, or options, to cut files."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from frameforge.cli.console import Ended, print_json, say, say_fault
from frameforge.cli.ending import INTERRUPTED
from frameforge.cli.interrupt import stoppable
from frameforge.cli.options import takes
from frameforge.cli.progress import progress
from frameforge.cli.retyped import retyped
from frameforge.errors import GeometryError

if TYPE_CHECKING:
    from frameforge.job.batch.made import BatchMade
    from frameforge.job.made import Made

__all__ = ["command"]

_MOST_NAMED = 12
"""Pieces that a line names; of more it speaks together."""


@takes(
    "size", "opening", "rim", "ratio", "grow_from", "goes_in", "base", "motif", "count", "gap", "foot_gap", "scale",
    "foot", "lean", "place", "on", "inset", "seat", "between", "depth", "spread", "mirror", "start", "skip",
    "keep_free", "free", "rest", "seam", "filler", "text", "along",
    "as_", "reads", "letter_size", "font", "hole", "fold", "flat", "crease", "lid",
    "stand", "rings", "layers", "match", "inside", "clearance", "kerf", "overcut", "lead_in", "bridges",
    "flip", "test_piece", "mend", "white", "keep_counters", "loose", "lenient", "units", "card", "preset",
    "copies", "sheet", "margin", "apart", "turn", "used", "price", "stack", "seed", "tries",
    "name", "formats", "dxf", "dxf_unit", "one_path", "one_file", "as_cut", "hand_out",
    "names", "workers", "scheduler", "out", "force", "strict", "motifs", "json",
    argument=("recipe", "RECIPE", "a recipe.toml, or an .svg or .dxf that frameforge wrote"),
)  # fmt: skip
def command(recipe: str | None, json: bool, **options: Any) -> None:
    """Make pieces as cut files, from a recipe or from options.

    Lengths are mm when nothing else is said: 100mm, 4in, '3 1/4 in'. Options change a recipe of one piece.
    """
    from frameforge.job.make import MakeOrder
    from frameforge.job.make_any import make_any
    from frameforge.job.motif_options import motifs_folder

    typed = {"json": json, **options}
    out, motifs = options.pop("out"), options.pop("motifs")
    many = {key: options.pop(key) for key in ("names", "workers", "scheduler")}
    order = MakeOrder(
        recipe=Path(recipe) if recipe else None,
        out=Path(out or "out"),
        motifs=motifs_folder(motifs),
        is_lenient=options.pop("lenient"),
        replaces_foreign=options.pop("force"),
        refuses_warnings=options.pop("strict"),
        stoppable=stoppable,
        options=options,
    )
    with progress() as report:
        result = make_any(order, report, **many)
    if json:
        print_json(result.as_json())
    say([*result.lines(), *_offer(result, recipe, typed)], beside_json=json)
    if result.sheets and result.sheets.is_interrupted:
        raise Ended(INTERRUPTED)
    if result.not_made:
        say_fault(result.not_made)
        raise Ended(GeometryError.exit_code)


def _offer(result: Made | BatchMade, recipe: str | None, typed: dict[str, Any]) -> list[str]:
    """Return the line to type to have mended what can be mended; none where there is no such thing."""
    if not any(piece.can_be_mended for piece in result.pieces):
        return []
    if len(result.pieces) > 1:
        names = ", ".join(piece.name for piece in result.pieces if piece.can_be_mended)
        if len(result.pieces) > _MOST_NAMED:
            return ['To mend what can be mended, write mend = "all" in the recipe below [[piece]].']
        return [f'To mend what can be mended, write mend = "all" in the recipe below [[piece]], in: {names}.']
    return ["To mend what can be mended:", f"  {retyped('make', recipe, {**typed, 'mend': 'all'})}"]
