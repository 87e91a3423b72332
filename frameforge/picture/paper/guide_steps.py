"""What a guide says: how to print it, lay it and punch by it, in short steps; cautions last."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

__all__ = ["grid_steps", "piece_steps"]

_PRINT = "Print at 100 %, not fitted to the page. Then measure: the bar 100 mm, the square 50 mm both ways."
_LAY = "Trim each page at its crop marks, lay the next one from the dashed line on, and tape them."
_BLADE = "Sharp blade: cut away from your fingers, on a cutting mat. Learners punch and cut with someone by."
_SPARE = "For a class print one spare for every six learners."


def piece_steps(
    said: Sequence[str], *, is_oval: bool, is_bare: bool, faces_in: Collection[bool], is_tiled: bool
) -> tuple[str, ...]:
    """Return the lines of a piece's guide; ``said`` are its sizes and gaps, ``faces_in`` has an entry for each row."""
    return (
        *said,
        *_numbered(_piece(is_oval=is_oval, is_bare=is_bare, faces_in=faces_in, is_tiled=is_tiled)),
        _SPARE,
        _BLADE,
    )


def _piece(*, is_oval: bool, is_bare: bool, faces_in: Collection[bool], is_tiled: bool) -> Iterator[str]:
    """Yield the steps, in order."""
    yield _PRINT
    if is_tiled:
        yield _LAY
    yield "Lay the card below the guide, tape both down, and prick through the middle and every pair of foot marks."
    side = "into the opening" if any(faces_in) else "outside the edge"
    if len(set(faces_in)) > 1:
        side = "outside the edge, that of the inner marks into the opening"
    what = "your punch" if is_bare else "the ornament"
    if is_oval:
        yield f"Line up the middle of {what} with the line of its number (on an oval these miss the middle)."
    else:
        yield f"Line up the middle of {what} with the spoke of its number."
    yield f"Its foot goes from mark to mark, the ornament {side}. Go clockwise from 1 at the top."
    yield "Take every place from its own marks, never from the ornament before it: small slips would add up."


def grid_steps(said: Sequence[str], *, has_taker: bool, is_tiled: bool) -> tuple[str, ...]:
    """Return the lines of a bare grid; ``said`` is what it holds."""
    steps = [_PRINT]
    if is_tiled:
        steps.append(_LAY)
    steps.append("Lay the cut circle on the grid so that it follows one circle all round; prick its middle.")
    steps.append("Mark the edge at every spoke; the spoke is the middle line of an ornament.")
    if has_taker:
        steps.append("On the dashed circle they close evenly: the short lines are where each foot stands.")
    steps.append("The spokes are even on circles only. For an oval print its own guide.")
    return (*said, *_numbered(iter(steps)), _SPARE, _BLADE)


def _numbered(steps: Iterator[str]) -> list[str]:
    """Return the steps with their numbers."""
    return [f"{number}. {step}" for number, step in enumerate(steps, start=1)]
