"""The files of sheets: one SVG and one DXF each, read back, and a picture of them all."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Final

import numpy as np
import shapely

from frameforge.geometry.affine import Affine
from frameforge.geometry.flatten import to_polygon
from frameforge.job.laid_sheet import LaidPiece, SheetMade, SheetsMade
from frameforge.job.output import file_options
from frameforge.job.part import Part
from frameforge.job.pictures import png_picture
from frameforge.job.sheet_words import closing_line, percent, size_words
from frameforge.picture.sheet_plan import PlanPiece, PlanSheet, sheet_plan
from frameforge.recipe.model import FilesTable
from frameforge.write.cut_files import cut_files
from frameforge.write.formats import FORMATS
from frameforge.write.marker import marked_svg
from frameforge.write.out_folder import OutFile, PieceFiles

__all__ = ["kind_numbers", "listed_words", "sheet_files", "widest_place"]

_SPOT_MM: Final = 0.05
"""The widest place of a piece is looked for to this."""


def sheet_files(
    made: SheetsMade, files: FilesTable, plan_name: str, recipe: str = ""
) -> tuple[SheetsMade, tuple[PieceFiles, ...]]:
    """Return the sheets with the names of their files, and the files: those of each sheet, then the picture of all.

    ``recipe`` is kept in every file of a sheet, when not empty. Raises FrameforgeError, our own fault, when a text does
    not hold what it should.
    """
    options = file_options(files)
    batches = [
        PieceFiles(sheet.name, cut_files(sheet.page, sheet.name, options, recipe=recipe)) for sheet in made.sheets
    ]
    named = {batch.name: {file.name.removeprefix(f"{batch.name}."): file.name for file in batch.files}
             for batch in batches}  # fmt: skip
    others: tuple[str, ...] = ()
    if "png" in (files.formats or FORMATS):
        svg = sheet_plan(_title(made), _plan_sheets(made))
        pictures = OutFile(f"{plan_name}.svg", marked_svg(svg)), OutFile(f"{plan_name}.png", png_picture(svg))
        batches.append(PieceFiles(plan_name, pictures))
        others = tuple(picture.name for picture in pictures)
    return made.with_files(named, others), tuple(batch for batch in batches if batch.files)


def _title(made: SheetsMade) -> str:
    """Return the title of the picture: the closing line without what the sheets tell themselves."""
    return closing_line(made).split(". Card used")[0]


def _plan_sheets(made: SheetsMade) -> list[PlanSheet]:
    """Return what is drawn of every sheet; pieces carry a number where their card has several kinds of them."""
    kinds = kind_numbers(made)
    spots: dict[int, tuple[complex, float]] = {}
    return [
        PlanSheet(
            name=f"{sheet.name}, {sheet.card}" if sheet.card and sheet.card not in sheet.name else sheet.name,
            card=sheet.card,
            width_mm=sheet.sheet.width_mm,
            height_mm=sheet.sheet.height_mm,
            pieces=tuple(_plan_piece(piece, kinds[id(piece.part)], spots) for piece in sheet.pieces),
            used=sheet.used,
            lines=(size_words(sheet), listed_words(sheet, kinds), f"card used {percent(sheet.card_used)}"),
        )
        for sheet in made.sheets
    ]


def kind_numbers(made: SheetsMade) -> dict[int, str]:
    """Return the number of every part on its card, by identity; none where a card has one kind of piece."""
    of_card: dict[str | None, list[Part]] = {}
    for part in made.parts:
        of_card.setdefault(part.card, []).append(part)
    return {
        id(part): str(number) if len(parts) > 1 else ""
        for parts in of_card.values()
        for number, part in enumerate(parts, start=1)
    }


def _plan_piece(piece: LaidPiece, number: str, spots: dict[int, tuple[complex, float]]) -> PlanPiece:
    """Return one piece as it is drawn; the widest place is found once for all copies."""
    plain = PlanPiece(piece.cut.region, lines=piece.cut.machine_cuts or (), creases=piece.cut.creases)
    if not number:
        return plain
    if id(piece.part) not in spots:
        spots[id(piece.part)] = widest_place(piece.part)
    spot, room = spots[id(piece.part)]
    turn = Affine.from_turn(math.radians(piece.turn_deg))
    before, after = piece.part.cut.region.outer.segments[0].start, piece.cut.region.outer.segments[0].start
    at = after + turn.apply_vector(spot - before)
    return replace(plain, number=number, spot=at, room_mm=room)


def widest_place(part: Part) -> tuple[complex, float]:
    """Return the middle and the radius of the largest disc in the card of a part, the topmost of equal ones."""
    shape = to_polygon(part.cut.region)
    ends = shapely.get_coordinates(shapely.maximum_inscribed_circle(np.array([shape]), tolerance=np.array([_SPOT_MM])))
    middle, edge = (complex(*point) for point in ends)
    return middle, abs(edge - middle)


def listed_words(sheet: SheetMade, kinds: dict[int, str]) -> str:
    """Return what lies on a sheet with its numbers: "1: 8 x badge, 2: 2 x gate-sign"."""
    counts: dict[int, int] = {}
    parts: dict[int, Part] = {}
    for piece in sheet.pieces:
        counts[id(piece.part)] = counts.get(id(piece.part), 0) + 1
        parts[id(piece.part)] = piece.part
    words = []
    for key in sorted(counts, key=list(kinds).index):
        number = f"{kinds[key]}: " if kinds[key] else ""
        words.append(f"{number}{counts[key]} x {parts[key].name}")
    return ", ".join(words)
