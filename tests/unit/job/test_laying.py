"""Pieces laid on sheets: proved once more as they will be written, told as the search goes on, ended when asked."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from typing import Any

import pytest
from fixtures.laid import box_part, disc_part, ring_part

from frameforge.card.sheet_size import A4, SheetSize, parse_sheet
from frameforge.errors import FrameforgeError
from frameforge.job import laying
from frameforge.job.laying import Search, laid_out
from frameforge.job.part import Part
from frameforge.job.sheet_terms import SheetGroup, SheetTerms, groups_of
from frameforge.sheet.lay import Laid, lay


def quiet(done: int, total: int, name: str) -> None:
    """Say nothing."""


def groups(*parts: Part, size: SheetSize = A4) -> tuple[SheetGroup, ...]:
    return groups_of(parts, lambda card: SheetTerms((size,)), lambda card: "make")


Spoil = Callable[[Laid], Laid]


def moved(laid: Laid, place: int, by_mm: complex) -> Laid:
    """Return a layout with one piece of its first sheet moved."""
    first = laid.sheets[0]
    placed = list(first.placed)
    placed[place] = replace(placed[place], x_mm=placed[place].x_mm + by_mm.real, y_mm=placed[place].y_mm + by_mm.imag)
    return replace(laid, sheets=(replace(first, placed=tuple(placed)), *laid.sheets[1:]))


def near(laid: Laid) -> Laid:
    """Return a layout in which one disc comes a thousandth of a millimetre too near to another."""
    a, b = laid.sheets[0].placed[:2]
    way = complex(a.x_mm - b.x_mm, a.y_mm - b.y_mm)
    return moved(laid, 1, way / abs(way) * (abs(way) - 63 + 0.001))


def lost(laid: Laid) -> Laid:
    first = laid.sheets[0]
    return replace(laid, sheets=(replace(first, placed=first.placed[:-1]),))


def doubled(laid: Laid) -> Laid:
    first = laid.sheets[0]
    placed = (*first.placed[:-1], replace(first.placed[-1], copy=first.placed[0].copy))
    return replace(laid, sheets=(replace(first, placed=placed),))


@pytest.mark.parametrize(
    "spoil", [near, lost, doubled, lambda laid: moved(laid, 0, -6 - 0j)], ids=["near", "lost", "doubled", "outside"]
)
def test_a_layout_that_does_not_hold_is_never_written(monkeypatch: pytest.MonkeyPatch, spoil: Spoil) -> None:
    def spoilt(*arguments: Any, **named: Any) -> Laid:
        return spoil(lay(*arguments, **named))

    monkeypatch.setattr(laying, "lay", spoilt)
    with pytest.raises(FrameforgeError, match="the layout does not hold") as caught:
        laid_out(groups(disc_part("seal", 60, 3)), Search(tries=0), quiet)
    assert caught.value.exit_code == 70


def test_a_sound_layout_is_told_as_it_grows() -> None:
    told: list[tuple[int, int, str]] = []

    def tell(done: int, total: int, name: str) -> None:
        told.append((done, total, name))

    made = laid_out(
        groups(disc_part("seal", 60, 4, "moss"), box_part("label", 70, 40, 3, "moss")), Search(tries=8), tell
    )
    assert len(made.sheets) == 1
    assert {total for _, total, _ in told[:-1]} == {8}
    assert told[-1] == (1, 1, "")
    assert "laying moss: 1 sheet so far" in [name for _, _, name in told]


def test_a_search_that_is_ended_keeps_the_best_of_every_card() -> None:
    """Ended at the third try of the first card: the second is laid all the same, by no more than it needs."""
    asked = 0

    @contextmanager
    def stoppable() -> Iterator[Callable[[], bool]]:
        def is_stopped() -> bool:
            nonlocal asked
            asked += 1
            return asked > 3

        yield is_stopped

    parts = [
        part
        for card in ("moss", "sand")
        for part in (disc_part("seal", 60, 4, card), box_part("label", 70, 40, 3, card))
    ]
    made = laid_out(groups(*parts), Search(tries=1000), quiet, stoppable)
    assert made.is_interrupted
    assert made.tries < 10
    assert made.of_card() == {"moss": 1, "sand": 1}
    assert not laid_out(groups(*parts), Search(tries=3), quiet).is_interrupted


def test_what_lies_in_openings_is_counted_from_the_order_of_cutting() -> None:
    """On an A5 sheet there is no other place for a disc of 90 mm than in the opening of the hoop."""
    parts = ring_part("hoop", 130, 110), disc_part("seal", 90), disc_part("tag", 20)
    made = laid_out(groups(*parts, size=parse_sheet("A5")), Search(tries=20), quiet)
    (sheet,) = made.sheets
    names = [piece.part.name for piece in sheet.pieces]
    hoop, seal = names.index("hoop"), names.index("seal")
    assert seal < hoop
    assert sheet.pieces[seal].inside_of == hoop
    assert sheet.pieces[hoop].inside_of is None
    for cut in sheet.off_cuts:
        assert cut.opening_of in (None, hoop)
