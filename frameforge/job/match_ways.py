"""What to do where marks that lower cards hide find no room: a wider rim or a smaller opening, tried with the stack."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Final

from frameforge.card.preset import Preset
from frameforge.errors import FrameforgeError, GeometryError
from frameforge.frame.going_with import Also, going_with
from frameforge.frame.make import can_make
from frameforge.frame.piece import Piece
from frameforge.frame.spec import PieceSpec, Size
from frameforge.frame.trying import trying
from frameforge.frame.ways import LAST_PAIRS, Way, sentence_of
from frameforge.frame.wording import down, size_words, up
from frameforge.job.make_layers import stack_holds
from frameforge.recipe.recipe import Recipe

if TYPE_CHECKING:
    from frameforge.job.made import MadePiece

__all__ = ["matched"]

_MORE_MM: Final = (0.5, 1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0)
"""So much wider a rim is tried."""


def matched(
    recipe: Recipe, index: int, preset: Preset, order: Callable[[], PieceSpec], make: Callable[[], list[MadePiece]]
) -> list[MadePiece]:
    """Return the cards of a stack with marks as ``make`` gives them; ``order`` is that of the topmost.

    Raises what that raises, every way out tried with the whole stack.
    """
    with going_with(_also(recipe, index, preset, recipe.pieces[index].match)):
        try:
            return make()
        except GeometryError as fault:
            if type(fault) is not GeometryError or len(fault.lines) > 1:
                raise
            raise _with_ways(fault, recipe, index, order(), preset) from fault


def _also(recipe: Recipe, index: int, preset: Preset, match: str | None) -> Also:
    def also(spec: PieceSpec, piece: Piece) -> bool:
        return stack_holds(recipe, index, spec, piece, preset, match)

    return also


def _with_ways(fault: GeometryError, recipe: Recipe, index: int, spec: PieceSpec, preset: Preset) -> FrameforgeError:
    """Return a refusal of a piece whose stack has marks, with what would do where it offers nothing that was tried."""
    if "--" in fault.say.replace("--match out", "").replace("--place out", ""):
        return fault
    head = fault.say.partition(". ")[0].rstrip(".")
    ways = [*_wider(recipe, index, spec, preset), *_other_marks(fault, recipe, index, spec, preset)]
    if not ways:
        return fault
    of_marks = fault.code in ("no-room", "no-match")
    told = f" Take {', '.join(ways)}, or leave --match out." if of_marks else sentence_of(ways)
    return GeometryError(f"{head}.{told}", where=fault.where, code=fault.code, **fault.numbers)


def _wider(recipe: Recipe, index: int, spec: PieceSpec, preset: Preset) -> list[str]:
    """Return the first rim, or opening, with which the piece and its stack can be made."""
    with going_with(_also(recipe, index, preset, recipe.pieces[index].match)), trying(LAST_PAIRS):
        first = next((way.words for way in _rims(spec) if can_make(way.applied(spec), preset)), None)
    return [first] if first else []


def _rims(spec: PieceSpec) -> Iterator[Way]:
    """Yield wider and wider rims, or smaller and smaller openings."""
    if spec.is_size_fixed:
        return
    for more in _MORE_MM:
        if spec.rim_mm is not None:
            rim = up(spec.rim_mm + more, 0.1)
            yield Way(f"--rim {rim:g}mm", piece={"rim_mm": rim})
        elif spec.opening is not None:
            sides = [down(side - 2 * more, 0.1) for side in (spec.opening.width_mm, spec.opening.height_mm)]
            if min(sides) > 0:
                yield Way(f"--opening {size_words(Size(*sides))}", piece={"opening": Size(*sides)})


def _other_marks(fault: GeometryError, recipe: Recipe, index: int, spec: PieceSpec, preset: Preset) -> list[str]:
    """Return the other kind of marks, where they find room or something to tell."""
    if fault.code not in ("no-room", "no-match"):
        return []
    other = "notches" if recipe.pieces[index].match == "holes" else "holes"
    with going_with(_also(recipe, index, preset, other)):
        return [f"--match {other}"] if can_make(spec, preset) else []
