"""Pieces laid on sheets: the search run for each card, what fits no sheet refused, the rest as sheets to be written."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from frameforge.errors import FrameforgeError
from frameforge.geometry.affine import Affine
from frameforge.geometry.measure import bounds
from frameforge.geometry.region import Region
from frameforge.job.kept_layouts import kept_layout
from frameforge.job.laid_sheet import LaidPiece, SheetMade, SheetsMade
from frameforge.job.left_over import LeftOverError
from frameforge.job.part import Part
from frameforge.job.sheet_refusal import too_big
from frameforge.job.sheet_terms import SheetGroup
from frameforge.job.stoppable import Stoppable, never_stopped
from frameforge.machine.sheet_order import LaidBox, sheet_order
from frameforge.sheet.design import Design, Layout, Placed, Turning
from frameforge.sheet.lay import Laid, LaidSheet, Progress, lay
from frameforge.sheet.off_cuts import OffCut, off_cuts
from frameforge.sheet.verify import faults_on

__all__ = [
    "SEED",
    "Search",
    "Stated",
    "Telling",
    "copies_of",
    "designs_of",
    "laid_out",
    "layouts_of",
    "sheet_names_of",
    "sheets_made",
]

SEED: Final = 1
Telling = Callable[[int, int, str], None]
"""Called with (orders tried, orders in all, what is known so far)."""

Stated = Callable[[Sequence[SheetGroup]], Sequence[Laid | None]]
"""Gives the layout of each group where the recipe states it, None where it is to be looked for."""


@dataclass(frozen=True, slots=True)
class Search:
    """How a layout is looked for; without ``tries`` as long as the placer holds to be worth while."""

    turn: Turning = "free"
    seed: int = SEED
    tries: int | None = None


def laid_out(
    groups: Sequence[SheetGroup],
    search: Search,
    tell: Telling,
    stoppable: Stoppable = never_stopped,
    names: Callable[[str | None, int], str] = lambda card, number: f"{card or 'sheet'}-{number}",
    stated: Stated = lambda groups: [None] * len(groups),
) -> SheetsMade:
    """Return all sheets, proved; ``names`` gives the name of a card's sheet by its number from 1.

    Raises LeftOverError, a line for each, for pieces that no sheet takes; then nothing is laid. What ``stated`` raises
    goes through.
    """
    found, is_interrupted = layouts_of(groups, search, tell, stoppable, stated(groups))
    made = sheets_made(found, search, names)
    first = 0
    for group, laid in found:
        _prove(group, made.sheets[first : first + len(laid.sheets)])
        first += len(laid.sheets)
    return replace(made, is_interrupted=is_interrupted)


def layouts_of(
    groups: Sequence[SheetGroup], search: Search, tell: Telling, stoppable: Stoppable, known: Sequence[Laid | None]
) -> tuple[list[tuple[SheetGroup, Laid]], bool]:
    """Return every group with its layout, looked for where it is not ``known``, and whether that was ended early.

    Raises LeftOverError, a line for each, for pieces that no sheet takes.
    """
    found: list[tuple[SheetGroup, Laid]] = []
    faults: list[FrameforgeError] = []
    with stoppable() as is_stopped:
        for group, layout in zip(groups, known, strict=True):
            laid = layout or _laid(group, search, tell, is_stopped)
            alike = _alike(group)
            faults += [too_big(group, replace(one, design=alike[one.design][0]), search.turn) for one in laid.left_over]
            found.append((group, laid))
        is_interrupted = is_stopped()
    tell(1, 1, "")
    if faults:
        raise LeftOverError.from_many(faults)
    return found, is_interrupted


def _laid(group: SheetGroup, search: Search, tell: Telling, is_stopped: Callable[[], bool]) -> Laid:
    """Return the best layout of one group."""

    def keep_going(progress: Progress) -> bool:
        tell(progress.done, progress.tries, _so_far(group, progress))
        return not is_stopped()

    designs = designs_of(group, search.turn)

    def find() -> Laid:
        return lay(designs, group.stock, seed=search.seed, tries=search.tries, keep_going=keep_going)

    return kept_layout((designs, group.stock, search.seed, search.tries), find, is_stopped)


def _so_far(group: SheetGroup, progress: Progress) -> str:
    """Return what the bar says: "laying moss: 2 sheets so far"."""
    what = f"laying {group.card}" if group.card else "laying"
    if not progress.sheets:
        return what
    return f"{what}: {progress.sheets} sheet{'s' if progress.sheets > 1 else ''} so far"


def _alike(group: SheetGroup) -> list[list[int]]:
    """Return the parts of a group (from 0) by their outlines: badges that differ in words alone are one design."""
    found: dict[Region, list[int]] = {}
    for place, part in enumerate(group.parts):
        found.setdefault(part.cut.region, []).append(place)
    return list(found.values())


def designs_of(group: SheetGroup, turn: Turning) -> tuple[Design, ...]:
    """Return what is laid: one design for all parts of the same outline."""
    found = []
    for places in _alike(group):
        parts = [group.parts[place] for place in places]
        copies = sum(group.laid_copies(part) for part in parts)
        found.append(Design(parts[0].name, (parts[0].cut.region,), copies, turn))
    return tuple(found)


def sheet_names_of(group: SheetGroup) -> list[str]:
    """Return what the kinds of sheet of a group are called, in the order of its stock."""
    return [size.name for size in group.sizes]


def copies_of(group: SheetGroup) -> list[list[tuple[Part, int]]]:
    """Return for every design which part each of its copies is, and which copy of that, from 1."""
    parts = [[group.parts[place] for place in places] for places in _alike(group)]
    return [[(part, k + 1) for part in alike for k in range(group.laid_copies(part))] for alike in parts]


def sheets_made(
    found: Sequence[tuple[SheetGroup, Laid]],
    search: Search,
    names: Callable[[str | None, int], str],
    *,
    has_rests: bool = True,
) -> SheetsMade:
    """Return the sheets of all groups as they are laid, numbered card by card, not proved.

    ``has_rests`` tells whether what is left of them is looked at.
    """
    sheets: list[SheetMade] = []
    numbers: dict[str | None, int] = {}
    for group, laid in found:
        designs, copies = designs_of(group, search.turn), copies_of(group)
        rests: dict[tuple[object, ...], tuple[OffCut, ...]] = {}
        for one in laid.sheets:
            numbers[group.card] = number = numbers.get(group.card, 0) + 1
            alike = (one.kind, *((p.design, p.x_mm, p.y_mm, p.turn_deg) for p in one.placed))
            if alike not in rests:
                rests[alike] = off_cuts(one.placed, designs, one.sheet, one.used) if has_rests else ()
            pieces = [_piece(place, designs, copies) for place in one.placed]
            sheets.append(_sheet(group, one, names(group.card, number), pieces, rests[alike]))
    groups = tuple(group for group, _ in found)
    return SheetsMade(
        sheets=tuple(sheets),
        parts=tuple(part for group in groups for part in group.parts),
        sheets_at_least=sum(laid.sheets_at_least for _, laid in found),
        methods=tuple(dict.fromkeys(laid.method for _, laid in found)),
        tries=sum(laid.tries for _, laid in found),
        notes=tuple(dict.fromkeys(note for group in groups for note in group.notes)),
    )


def _sheet(
    group: SheetGroup, laid: LaidSheet, name: str, pieces: Sequence[LaidPiece], cuts: tuple[OffCut, ...]
) -> SheetMade:
    """Return one sheet with its pieces in cutting order; ``cuts`` are its rests by the order in which it was laid."""
    order = sheet_order([LaidBox(bounds(p.cut.region), p.inside_of) for p in pieces])
    rank = {old: new for new, old in enumerate(order)}
    ordered = [pieces[old] for old in order]
    in_order = tuple(replace(p, inside_of=None if p.inside_of is None else rank[p.inside_of]) for p in ordered)
    return SheetMade(
        name=name,
        card=group.card,
        size=group.sizes[laid.kind],
        sheet=laid.sheet,
        used=laid.used,
        pieces=in_order,
        price=group.price,
        stack=group.stack,
        off_cuts=tuple(
            replace(cut, opening_of=None if cut.opening_of is None else rank[cut.opening_of]) for cut in cuts
        ),
    )


def _piece(place: Placed, designs: tuple[Design, ...], copies: list[list[tuple[Part, int]]]) -> LaidPiece:
    """Return one copy with all its lines where it lies."""
    part, copy = copies[place.design][place.copy - 1]
    turned = designs[place.design].turned(place.turn_deg)
    move = Affine.from_move(complex(place.x_mm, place.y_mm) - bounds(turned).center)
    cut = part.cut.transformed(move.after(_turn(place.turn_deg)))
    return LaidPiece(part, copy, place.x_mm, place.y_mm, place.turn_deg, place.inside_of, cut)


_QUARTERS: Final = (1, 1j, -1, -1j)


def _turn(turn_deg: float) -> Affine:
    """Return the counter-clockwise turn about 0; quarter turns are exact."""
    quarter, rest = divmod(turn_deg, 90)
    return Affine(_QUARTERS[int(quarter) % 4]) if rest == 0 else Affine.from_turn(math.radians(turn_deg))


def _prove(group: SheetGroup, sheets: Sequence[SheetMade]) -> None:
    """Raise our own fault unless the very outlines to be written lie inside the margins, apart, each once.

    What was laid was proved already; here it is proved again after every piece was moved with all its lines.
    """
    pieces = [piece for sheet in sheets for piece in sheet.pieces]
    wanted = {(id(part), copy): 1 for part in group.parts for copy in range(1, group.laid_copies(part) + 1)}
    got = Counter((id(piece.part), piece.copy) for piece in pieces)
    designs = tuple(Design(piece.part.name, (piece.cut.region,), 1, "none") for piece in pieces)
    numbers = iter(range(len(pieces)))
    layout = Layout(tuple(tuple(_as_it_lies(next(numbers), piece) for piece in sheet.pieces) for sheet in sheets))
    faults = faults_on(layout, designs, [sheet.sheet for sheet in sheets], [sheet.used for sheet in sheets])
    if faults or wanted != got:
        what = faults[0].say if faults else "a piece is missing, or lies there twice"
        say = f"the layout does not hold ({what}), so nothing was written."
        raise FrameforgeError(say, where=group.card or "sheets", code="own-fault")


def _as_it_lies(number: int, piece: LaidPiece) -> Placed:
    middle = bounds(piece.cut.region).center
    return Placed(number, 1, middle.real, middle.imag, 0.0)
