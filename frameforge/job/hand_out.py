"""Hand-outs of a run: one page for each table of the recipe, with all the cards that it asks for."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from frameforge.job.closing import caution_lines
from frameforge.job.made import MadePiece
from frameforge.picture.paper.hand_out import HandOut, HandOutPart, hand_out_page
from frameforge.picture.paper.marks import Stroke
from frameforge.units import format_mm, format_seconds, format_size
from frameforge.write.pdf import to_pdf

__all__ = ["HAND_OUT", "hand_out_pdf"]

HAND_OUT = "hand-out.pdf"

_LAST_GAP = (
    "When the last gap comes out smaller than the others: spread all of them again from the spokes, take the next size "
    "at which they close, or fill it with a smaller motif."
)


def hand_out_pdf(pieces: Sequence[MadePiece]) -> bytes:
    """Return the hand-outs of all projects as a PDF file, in the order of the recipe."""
    projects = [list(group) for _, group in groupby(pieces, key=lambda piece: piece.origin)]
    pages = [
        hand_out_page(_hand_out(project), number, len(projects)) for number, project in enumerate(projects, start=1)
    ]
    return to_pdf(pages, "hand-out")


def _hand_out(project: Sequence[MadePiece]) -> HandOut:
    """Return what the hand-out of one project says."""
    parts = tuple(
        HandOutPart(
            piece.name,
            piece.card,
            piece.copies,
            format_size(piece.box.width_mm, piece.box.height_mm),
            f"about {format_seconds(piece.cut_s * piece.copies)}",
            piece.regions,
            (
                *(Stroke(run, 0.15, (1.5, 1.0)) for run in piece.creases),
                *(Stroke(run, 0.12, grey=0.3) for run in piece.marks),
            ),
        )
        for piece in project
    )
    rows = [f"{piece.name}: {line}" if len(project) > 1 else line for piece in project for line in piece.row_lines()]
    has_repeats = any(row.count > 1 for piece in project for row in piece.piece.rows)
    words = tuple(line for piece in project for line in piece.words)
    by_hand = (_LAST_GAP,) if has_repeats else ()
    cautions = caution_lines((piece.preset, piece.kerf_mm) for piece in project)
    numbered = tuple(f"{number}. {step}" for number, step in enumerate(_steps(project), start=1))
    return HandOut(
        project[0].name,
        parts,
        (
            ("Pattern", tuple(rows)),
            ("Words", words),
            ("Settings", _settings(project)),
            ("Steps", numbered),
            ("By hand", by_hand),
            ("Mind", tuple(cautions)),
        ),
    )


def _steps(project: Sequence[MadePiece]) -> list[str]:
    """Return what is done, in its order."""
    bits = sum(len(piece.piece.region.holes) * piece.copies for piece in project)
    return [
        "Cut a test piece of this card first and measure it.",
        *_line_lines(project),
        *_cut_lines(project),
        *([f"Pick out {bits} bit{'s' if bits > 1 else ''} of waste, 3 to 5 s each by hand."] if bits else []),
        *(line for piece in project for line in piece.how_to),
        *(f"Fold {piece.name} away from its creased side." for piece in project if piece.creases),
        *_glue_lines(project),
    ]


def _settings(project: Sequence[MadePiece]) -> tuple[str, ...]:
    """Return the limits and the speed that the pieces were made for, a line for each preset."""
    presets = dict.fromkeys(piece.preset for piece in project)
    return tuple(
        f"{preset.name}: {preset.speed_mm_s:g} mm a second, {preset.passes} pass{'es' if preset.passes > 1 else ''}; "
        f"least web {format_mm(preset.least_web_mm)}, least slot {format_mm(preset.least_slot_mm)}, least hole "
        f"{format_mm(preset.least_hole_mm)}."
        for preset in presets
    )


def _line_lines(project: Sequence[MadePiece]) -> list[str]:
    """Return what is marked and creased, before anything is cut."""
    lines = []
    for piece in project:
        for kind, runs in (("Mark", piece.marks), ("Crease", piece.creases)):
            if runs:
                count = f"{len(runs)} line{'s' if len(runs) > 1 else ''}"
                lines.append(f"{kind} {piece.name} first, {count}, at low force or low power: it must not go through.")
    return lines


def _cut_lines(project: Sequence[MadePiece]) -> list[str]:
    """Return what is cut from which card."""
    lines = []
    for piece in project:
        times = f" {piece.copies} times" if piece.copies > 1 else ""
        card = f" from {piece.card}" if piece.card else ""
        across = format_size(piece.box.width_mm, piece.box.height_mm)
        lines.append(f"Cut {piece.name}{times}{card}; it must measure {across} across.")
    return lines


def _glue_lines(project: Sequence[MadePiece]) -> list[str]:
    """Return the order in which layers go together, the lowest first."""
    if len(project) < 2 or not any(piece.stack for piece in project):
        return []
    order = ", then ".join(piece.name for piece in reversed(project))
    return [f"Glue from below: {order}. Dry-fit before you glue."]
