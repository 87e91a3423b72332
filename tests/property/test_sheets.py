"""Whatever is laid: every piece once, whole, where it is told to lie, inside its sheet, apart from all others, cut from
the inside out; and what is written of it is read back as the same."""

from __future__ import annotations

import math
from collections import Counter

import pytest
from fixtures.laid import box_part, disc_part, ring_part
from hypothesis import given, settings
from hypothesis import strategies as st

from frameforge.card.sheet_size import A4
from frameforge.geometry.measure import area_mm2, bounds, length_mm
from frameforge.job.laid_sheet import SheetsMade, sheet_piece_json
from frameforge.job.laying import Search, laid_out
from frameforge.job.part import Part
from frameforge.job.sheet_files import sheet_files
from frameforge.job.sheet_terms import SheetTerms, groups_of
from frameforge.read.cut_dxf import read_cut_dxf
from frameforge.read.cut_svg import read_cut_svg
from frameforge.recipe.model import FilesTable
from frameforge.sheet.design import Turning

COPIES = st.integers(1, 3)
PARTS = st.lists(
    st.one_of(
        st.builds(disc_part, st.just("disc"), st.floats(12, 60), COPIES),
        st.builds(lambda o, w, n: ring_part("ring", o + 2 * w, o, n), st.floats(20, 70), st.floats(4, 15), COPIES),
        st.builds(box_part, st.just("label"), st.floats(10, 120), st.floats(10, 60), COPIES),
    ),
    min_size=1,
    max_size=3,
)
TURNS = st.sampled_from(("free", "quarter", "half", "none"))


def laid(parts: list[Part], turn: Turning, margin_mm: float, apart_mm: float) -> SheetsMade:
    """Return parts laid on A4 sheets, without a search."""
    terms = SheetTerms((A4,), margin_mm, apart_mm)
    groups = groups_of(parts, lambda card: terms, lambda card: "make")
    return laid_out(groups, Search(turn, 1, 0), lambda done, total, name: None)


@settings(max_examples=6)
@given(parts=PARTS, turn=TURNS, margin_mm=st.floats(0, 12), apart_mm=st.floats(0.5, 6))
def test_what_is_laid_is_whole_and_lies_where_it_is_told(
    parts: list[Part], turn: Turning, margin_mm: float, apart_mm: float
) -> None:
    made = laid(parts, turn, margin_mm, apart_mm)
    pieces = [piece for sheet in made.sheets for piece in sheet.pieces]
    assert Counter(id(piece.part) for piece in pieces) == {id(part): part.copies for part in parts}
    assert made.sheets_at_least <= made.count
    for sheet in made.sheets:
        for number, piece in enumerate(sheet.pieces):
            told = sheet_piece_json(piece)
            box = bounds(piece.cut.region)
            assert (box.center.real, box.center.imag) == pytest.approx((told["x_mm"], told["y_mm"]), abs=1e-9)
            assert min(box.left, box.bottom) >= margin_mm - 1e-6
            assert box.right <= 210 - margin_mm + 1e-6
            assert box.top <= 297 - margin_mm + 1e-6
            assert area_mm2(piece.cut.region) == pytest.approx(piece.part.area_mm2, rel=1e-9)
            assert length_mm(piece.cut.region) == pytest.approx(piece.part.cut_length_mm, rel=1e-9)
            assert told["inside_of"] is None or told["inside_of"] > number
            assert turn != "none" or told["turn_deg"] == 0


@settings(max_examples=3)
@given(parts=PARTS, turn=TURNS)
def test_what_is_written_of_sheets_is_what_was_laid(parts: list[Part], turn: Turning) -> None:
    made, batches = sheet_files(laid(parts, turn, 5, 3), FilesTable(formats=("svg", "dxf")), "sheet-plan")
    texts = {file.name: file.data for batch in batches for file in batch.files}
    for sheet in made.sheets:
        wanted = [run for piece in sheet.pieces for run in piece.cut.cuts()]
        for kind, read in (("svg", read_cut_svg), ("dxf", read_cut_dxf)):
            lines = read(texts[sheet.files[kind]], where=sheet.name).lines
            assert len(lines) == len(wanted)
            for line, run in zip(lines, wanted, strict=True):
                assert length_mm(line.segments) == pytest.approx(length_mm(run), abs=0.01)
                assert abs(bounds(line.segments).center - bounds(run).center) < 0.02
                assert math.isclose(bounds(line.segments).width_mm, bounds(run).width_mm, abs_tol=0.02)
