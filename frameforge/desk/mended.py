"""Pieces before and after mending, side by side: what was changed, what could not be mended, and the recipe of both."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

from frameforge.desk.asked import width_of
from frameforge.desk.change import RECIPE_NAME, checked
from frameforge.desk.made_pieces import made_pieces
from frameforge.desk.marks import label_values, line_values, ring_values
from frameforge.desk.recipe_text import recipe_text
from frameforge.finding import Finding, grouped
from frameforge.geometry.box import Box
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.job.made import MadePiece
from frameforge.job.mending import MendedPlace, mended_lines
from frameforge.job.motif_source import MotifSource
from frameforge.mend.codes import ALL_CODES
from frameforge.picture.elements import mm_to_px
from frameforge.picture.finding_marks import LABEL_ROOM_PX, label_reach, placed_marks
from frameforge.picture.look import card_colour
from frameforge.picture.path_text import region_text
from frameforge.recipe.recipe import parse_toml

__all__ = ["mended"]

_GREATEST_SCALE: Final = 6.0
"""Pixels for a millimetre at most, as in the picture of a piece."""
_DIGITS: Final = 2


def mended(question: dict[str, Any], source: MotifSource) -> dict[str, Any]:
    """Return the pieces that mending changes, or could not mend, drawn before and after, for the page.

    ``question`` holds recipe and width (px) of one drawing. ``with`` and ``without`` in the answer are the recipe with
    mending and without, ``is_on`` whether it mends already. Raises what the command raises of the mended recipe.
    """
    checked(str(question["recipe"]))
    raw = parse_toml(str(question["recipe"]), RECIPE_NAME)
    without, is_on = _without_mending(raw), _mends(raw)
    text = recipe_text(_with_mending(without))
    pieces = made_pieces(text, source)[1]
    shown = [_compared(made, width_of(question)) for made in pieces if made.mended or _left(made)]
    return {"pieces": shown, "is_on": is_on, "with": text, "without": recipe_text(without)}


def _mends(raw: Mapping[str, Any]) -> bool:
    return any(isinstance(piece, Mapping) and piece.get("mend") for piece in _pieces(raw))


def _pieces(raw: Mapping[str, Any]) -> Sequence[Any]:
    pieces = raw.get("piece")
    return pieces if isinstance(pieces, list) else ()


def _without_mending(raw: Mapping[str, Any]) -> dict[str, Any]:
    """Return a recipe none of whose pieces is mended."""
    return _changed(raw, lambda piece: {key: value for key, value in piece.items() if key != "mend"})


def _with_mending(raw: Mapping[str, Any]) -> dict[str, Any]:
    """Return a recipe all of whose pieces are mended, but for test pieces, which show the card as it is."""
    return _changed(raw, lambda piece: dict(piece) if piece.get("test_piece") else _mending(piece))


def _mending(piece: Mapping[str, Any]) -> dict[str, Any]:
    """Return the table of a piece with mending among its own values, before the tables in it."""
    plain = {key: value for key, value in piece.items() if not isinstance(value, list | Mapping)}
    return {**plain, "mend": "all", **{key: value for key, value in piece.items() if key not in plain}}


def _changed(raw: Mapping[str, Any], change: Any) -> dict[str, Any]:
    if not _pieces(raw):
        return dict(raw)
    return {**raw, "piece": [change(piece) if isinstance(piece, Mapping) else piece for piece in _pieces(raw)]}


def _left(made: MadePiece) -> list[Finding]:
    """Return what could be mended elsewhere and could not be here."""
    return [one for one in made.findings if one.code in ALL_CODES and one.severity != "note" and made.mends]


def _compared(made: MadePiece, width: float) -> dict[str, Any]:
    """Return a piece before and after, under the same marks, with the lists of what they mean."""
    before = made.unmended or (made.piece.region,)
    box = bounds((*before, made.piece.region))
    groups = grouped([*_left(made), *map(_as_finding, made.mended)])
    side = max([LABEL_ROOM_PX, *(label_reach(group) for group in groups)])
    scale = min((width - 2 * side) / box.width_mm, (width - 2 * LABEL_ROOM_PX) / box.height_mm, _GREATEST_SCALE)
    high = box.height_mm * scale + 2 * LABEL_ROOM_PX
    middle = complex(width, high) / 2
    to_px = mm_to_px(scale, middle, box.center)
    half = complex(box.width_mm, box.height_mm) * scale / 2
    rings, labels = placed_marks(groups, to_px, Box.from_points((middle - half, middle + half)))

    lines = [line_values(group, to_px, (width, high)) for group in groups]

    def card(regions: Sequence[Region]) -> dict[str, str]:
        path = region_text((region.transformed(to_px) for region in regions), _DIGITS)
        return {"path": path, "colour": card_colour(made.card)}

    return {
        "name": made.name,
        "width": width,
        "height": round(high, _DIGITS),
        "before": card(before),
        "after": card((made.piece.region,)),
        "rings": [ring_values(ring) for ring in rings],
        "labels": [label_values(label) for label in labels],
        "changed": [line for line in lines if line["severity"] == "note"],
        "left": [line for line in lines if line["severity"] != "note"],
        "said": mended_lines(made.mended),
    }


def _as_finding(place: MendedPlace) -> Finding:
    """Return a change as it is marked and listed: a note, its ring as large as the card that it changed."""
    (line,) = mended_lines([place])
    said = line.partition(": ")[2]
    return Finding(
        place.code, "note", f"{said[0].upper()}{said[1:]}", place.where, x_mm=place.at.real, y_mm=place.at.imag,
        limit=place.added_mm2 + place.removed_mm2, unit="mm2",
    )  # fmt: skip
