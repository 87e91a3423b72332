"""Pictures of what was made, as PNG."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from frameforge.finding import grouped
from frameforge.job.made import MadePiece
from frameforge.picture.contact_sheet import contact_sheet
from frameforge.picture.piece import PieceDrawing, piece_picture
from frameforge.units import format_size
from frameforge.write.marker import marked_svg
from frameforge.write.png import CSS_PX_PER_MM, to_png

__all__ = ["as_cut_pictures", "piece_png", "pieces_png", "png_picture", "stack_png"]

_SHARPNESS = 2.0
"""Pixels of a picture for each pixel it is drawn in: sharp on screens of two to one, and on paper at 13 cm width."""


def piece_png(made: MadePiece) -> bytes:
    """Return the picture of one piece, with what was found in it."""
    return png_picture(piece_picture(replace(_drawing(made), findings=grouped(made.findings))))


def stack_png(made: MadePiece) -> bytes:
    """Return the picture of the cards of a stack, one on another as they are glued."""
    *beneath, (region, colour) = made.stack
    told = next(told for told in made.sets if told.key == "layers")
    head, *rows = told.short
    lines = tuple(", ".join(_layer_words(head, row)) for row in rows)
    name = f"{made.name}, stacked"
    return png_picture(piece_picture(PieceDrawing(name, (region,), colour, lines, beneath=tuple(beneath))))


def _layer_words(head: Sequence[str], row: Sequence[str]) -> list[str]:
    """Return the line of one card: "2 cream, 160 x 110 mm, border 5 mm"."""
    cells = dict(zip(head, row, strict=True))
    card = "" if cells["card"] == "-" else f" {cells['card']}"
    words = [f"{cells['layer']}{card}", cells["across"]]
    return words if cells["border"] == "-" else [*words, f"border {cells['border']}"]


def as_cut_pictures(made: MadePiece) -> dict[str, bytes]:
    """Return the picture of the card left of a piece, by kind of file."""
    from frameforge.picture.as_cut import as_cut_picture  # here, since few runs draw it

    svg = as_cut_picture(made.name, (made.piece.region,), made.card, made.bond.parts if made.bond else ())
    return {"as-cut.svg": marked_svg(svg), "as-cut.png": png_picture(svg)}


def pieces_png(title: str, pieces: Sequence[MadePiece]) -> bytes:
    """Return one picture of all pieces, side by side to one scale."""
    return png_picture(contact_sheet(title, [_drawing(piece) for piece in pieces]))


def png_picture(svg: str) -> bytes:
    """Return a picture as PNG."""
    return to_png(svg, px_per_mm=CSS_PX_PER_MM * _SHARPNESS)


def _drawing(made: MadePiece) -> PieceDrawing:
    """Return what is drawn of a piece."""
    size = format_size(made.box.width_mm, made.box.height_mm)
    lines = (f"{size} across",)
    return PieceDrawing(made.name, made.regions, made.card, lines, creases=made.creases, marks=made.marks)
