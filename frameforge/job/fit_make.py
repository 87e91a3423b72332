"""The ``make`` line for an answer of ``fit``: what to type next, tried before it is told."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from frameforge.check.touches import find_touches
from frameforge.errors import FrameforgeError, GeometryError
from frameforge.frame.make import make_piece
from frameforge.frame.spec import Size
from frameforge.frame.wording import size_words, up
from frameforge.job.fit_answer import FitAnswer
from frameforge.job.fit_question import FitOrder, FitQuestion
from frameforge.job.motif_source import MotifSource
from frameforge.motif.motif import Motif
from frameforge.recipe.from_options import with_options
from frameforge.recipe.model import RowTable
from frameforge.recipe.recipe import check_recipe
from frameforge.recipe.source import Source
from frameforge.recipe.to_spec import to_spec
from frameforge.units import INCH_MM

__all__ = ["NextLine", "make_line"]

_ORDER: Final = (
    "motif", "size", "ratio", "grow_from", "opening", "rim", "count", "gap", "foot_gap", "scale", "foot", "place", "on",
    "inset", "lean", "seat", "spread", "mirror", "start", "white", "units", "card", "preset",
)  # fmt: skip
_LENGTHS: Final = ("size", "opening", "rim", "grow_from", "gap", "foot_gap", "foot", "inset")
_OF_FOUND_SIZES: Final = ("ratio", "grow_from")
_STAND_INS: Final = ("arch", "scallop", "trellis")
"""Motifs no wider than their feet, for a foot without one: their gap is that of their feet."""
_PLAIN: Final = re.compile(r"[\w./:,+@%-]+")


@dataclass(frozen=True, slots=True)
class NextLine:
    """The command line to copy, or, where the card cannot be cut so, the sentence that says why.

    ``stand_in`` is the motif put on a bare foot, as an example.
    """

    command: str | None
    fault: str | None = None
    stand_in: str | None = None


def make_line(question: FitQuestion, order: FitOrder, answer: FitAnswer, typed_size: str | None) -> NextLine:
    """Return the line that makes an answer; ``typed_size`` is its size as it was typed, None for one that was found.

    The piece is made first, so the line works when it is typed.
    """
    fault = ""
    for stand_in in _STAND_INS if question.is_bare else (None,):
        options = _options(question, order, answer, typed_size)
        if stand_in is not None:
            options["motif"] = (stand_in,)
        try:
            _try(options, order, question)
        except FrameforgeError as refusal:
            fault = fault or refusal.say
        else:
            return NextLine(" ".join(("frameforge make", *_words(options, order))), stand_in=stand_in)
    return NextLine(None, fault)


def _options(question: FitQuestion, order: FitOrder, answer: FitAnswer, typed_size: str | None) -> dict[str, Any]:
    """Return the options of ``make``: the size and the count of the answer, what was typed for the rest."""
    given = {key: order.options.get(key) for key in _ORDER}
    options = {key: value for key, value in given.items() if value not in (None, False, (), [])}
    for key in ("gap", "foot_gap", *(_OF_FOUND_SIZES if typed_size is not None else ())):
        options.pop(key, None)
    options["count"] = str(answer.count)
    is_found = "find" in (question.row.scale, question.row.foot_mm)
    if typed_size is not None and not is_found:
        options["size"] = typed_size
        return options
    gap = "foot_gap" if question.row.foot_gap_mm is not None and "foot_gap" in given and given["foot_gap"] else "gap"
    if typed_size is not None or question.wanted_gap_mm == 0:
        # Only the very size, or scale, makes them touch: it is found again.
        options["size"] = typed_size or "find"
        options[gap] = str(order.options.get(gap) or 0)
        return options
    for key in _OF_FOUND_SIZES:
        options.pop(key, None)
    assert answer.size is not None
    options["size"] = _rounded(answer.size, in_inches=question.in_inches)
    return options


def _rounded(size: Size, *, in_inches: bool) -> str:
    """Return a found size as it is typed, rounded up so that the gap is no narrower: "62.1mm", "2.45in"."""
    if not in_inches:
        return size_words(Size(up(size.width_mm, 0.1), up(size.height_mm, 0.1)))
    sides = [f"{up(side / INCH_MM, 0.01):.4g}" for side in (size.width_mm, size.height_mm)]
    return f"{sides[0]}in" if size.is_circle else f"{sides[0]}x{sides[1]}in"


def _try(options: Mapping[str, Any], order: FitOrder, question: FitQuestion) -> None:
    """Make the piece that the options say. Raises what refuses it."""
    source = MotifSource(Path(), order.motifs, order.is_lenient)

    def load(name: str, row: RowTable, where: str) -> Motif:
        return source.load(name, row, where, least_neck_mm=question.preset.least_neck_mm)

    recipe = check_recipe(*with_options({}, Source(""), options))
    piece = make_piece(to_spec(recipe, 0, "make", load), question.preset)
    if find_touches((piece.region,)):
        say = "edges touch there in one point, and a point holds nothing."
        raise GeometryError(say, where="make", code="point-touch")


def _words(options: Mapping[str, Any], order: FitOrder) -> Iterator[str]:
    """Yield options and values in their order, as a shell takes them."""
    for key in _ORDER:
        values = options.get(key, ())
        for value in (values,) if isinstance(values, str) else values:
            yield f"--{key.replace('_', '-')} {_quoted(value, is_length=key in _LENGTHS)}"
    if order.is_lenient:
        yield "--lenient"
    if order.options.get("motifs"):
        yield f"--motifs {_quoted(order.options['motifs'], is_length=False)}"


def _quoted(value: str, *, is_length: bool) -> str:
    """Return a value as it is typed in a shell; inch signs, which shells take for quotes, are written out."""
    text = value.strip()
    if is_length:
        text = re.sub(r"\s*(?:″|”|\"|''|′′)", "in", text)
    if _PLAIN.fullmatch(text):
        return text
    return shlex.quote(text) if re.search(r"[\"$`\\!]", text) else f'"{text}"'
