"""Pieces that are refused, as far as they can be seen: the picture, with all that is refused ringed and listed."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace
from typing import Any

from frameforge.desk.drawing import found_in
from frameforge.desk.see import refusal
from frameforge.errors import FrameforgeError
from frameforge.finding import Finding
from frameforge.job.findings import FindingsError
from frameforge.job.looking import looking_first
from frameforge.job.make import built
from frameforge.job.motif_source import MotifSource
from frameforge.recipe.recipe import Recipe

__all__ = ["refused"]


def refused(fault: FrameforgeError, recipe: Recipe, source: MotifSource, width_px: float) -> dict[str, Any]:
    """Return what is said of a refusal of pieces; where it rests on findings, ``marked`` is what ``found_in`` tells of
    them for the picture of every piece, ``width_px`` wide."""
    is_one = len(recipe.pieces) + len(recipe.tables.rings) == 1
    if not isinstance(fault, FindingsError):
        return refusal(fault, tells_lines=not is_one, raw=recipe.raw)
    marked = _marked(fault.findings, recipe, source, width_px)
    if is_one:
        # Of one piece it needs no name.
        fault.lines = tuple(line.removeprefix(f"{fault.where}: ") for line in fault.lines)
    return {**refusal(fault, tells_lines=not is_one, raw=recipe.raw), **({"marked": marked} if marked else {})}


def _marked(
    findings: tuple[Finding, ...], recipe: Recipe, source: MotifSource, width_px: float
) -> list[dict[str, Any]]:
    """Return the marks of findings, piece by piece; nothing where the pieces cannot even be looked at."""
    of: defaultdict[str, list[Finding]] = defaultdict(list)
    for finding in findings:
        of[finding.piece].append(finding)
    try:
        with looking_first():
            pieces = built(recipe, source, lambda done, _of, name: None)
    except FrameforgeError:
        return []
    return [
        found_in(replace(made, piece=replace(made.piece, findings=tuple(of[made.name]))), width_px) for made in pieces
    ]
