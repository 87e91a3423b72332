"""The edge a row stands on, and the size of it at which a count closes: chord geometry of bars on circles."""

from __future__ import annotations

import math

import pytest
from fixtures.plain_motifs import leaf, plain_rectangle
from fixtures.rows import D100, KNIFE, model_of, row_of

from frameforge.frame import row_edge
from frameforge.frame.model import RowModel
from frameforge.frame.row_edge import closing_sizes, is_on_opening
from frameforge.frame.spec import PieceSpec, Size

O60 = Size(60, 60)


@pytest.mark.parametrize(
    ("more", "is_on"),
    [
        ({}, False),
        ({"opening": O60}, False),
        ({"opening": O60, "place": "in"}, True),
        ({"opening": O60, "place": "in", "on": "base"}, False),
        ({"opening": O60, "on": "opening"}, True),
        ({"opening": O60, "place": "window", "on": "opening"}, True),
        ({"on": "opening"}, False),
    ],
)
def test_a_row_stands_on_the_opening_where_it_says_so_or_faces_in(more: dict[str, object], *, is_on: bool) -> None:
    assert is_on_opening(model_of(leaf(), **more)) is is_on  # type: ignore[arg-type]


def test_an_opening_that_a_rim_leaves_goes_with_the_base() -> None:
    row = row_of(leaf(), place="in")
    assert not is_on_opening(RowModel(PieceSpec("hoop", D100, rim_mm=12.0, rows=(row,)), row, KNIFE))


def test_the_base_changes_where_the_row_stands_on_it() -> None:
    """14 bars of 8 mm with 2 mm between: D sin(pi/14 - asin(8/D)) = 2."""
    model = model_of(plain_rectangle(8, 4), opening=O60)
    found = closing_sizes(model, D100, 14, 1.0, 2.0)
    assert found is not None
    spec, base = found
    assert base.is_circle
    assert base.width_mm * math.sin(math.pi / 14 - math.asin(8 / base.width_mm)) == pytest.approx(2.0, abs=1e-9)
    assert (spec.size, spec.opening) == (base, O60)


def test_the_opening_changes_where_the_row_stands_on_that_and_the_base_stays() -> None:
    """Bars into a hole draw together: nearest at their tips, 4 mm further in."""
    model = model_of(plain_rectangle(8, 4), opening=O60, place="in")
    found = closing_sizes(model, D100, 14, 1.0, 2.0)
    assert found is not None
    spec, base = found
    assert base == D100
    assert spec.size == D100
    assert isinstance(spec.opening, Size)
    assert spec.opening.is_circle
    half = spec.opening.width_mm / 2
    tip = math.sqrt(half**2 - 16) - 4
    gap = 2 * (tip * math.sin(math.pi / 14) - 4 * math.cos(math.pi / 14))
    assert gap == pytest.approx(2.0, abs=1e-9)


def test_an_oval_opening_keeps_its_proportion_and_may_be_found_roughly() -> None:
    model = model_of(plain_rectangle(8, 4), opening=Size(60, 50), place="in")
    exact = closing_sizes(model, D100, 10, 1.0, 2.0)
    rough = closing_sizes(model, D100, 10, 1.0, 2.0, settled_mm=0.05)
    assert exact is not None
    assert rough is not None
    for (spec, _), within in ((exact, 1e-9), (rough, 0.05)):
        assert spec.opening is not None
        assert spec.opening.width_mm / spec.opening.height_mm == pytest.approx(1.2, abs=1e-12)
        tried = RowModel(spec, model.row, KNIFE)
        assert tried.clearance_mm(D100, 10, 1.0) == pytest.approx(2.0, abs=within)
    assert exact[0].opening != rough[0].opening


def test_a_base_keeps_its_proportion_too() -> None:
    found = closing_sizes(model_of(plain_rectangle(8, 4)), Size(90, 60), 12, 1.0, 2.0, settled_mm=0.01)
    assert found is not None
    assert found[1].width_mm / found[1].height_mm == pytest.approx(1.5)


def test_where_none_closes_there_is_none(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(row_edge, "size_for", lambda *_, **__: None)
    monkeypatch.setattr(row_edge, "rising_zero", lambda *_, **__: None)
    for opening in (None, O60, Size(60, 50)):
        model = model_of(leaf(), opening=opening, on="opening" if opening else "base")
        assert closing_sizes(model, D100, 12, 1.0, 0.5) is None


def test_an_opening_is_looked_for_from_the_feet_alone_and_an_oval_one_from_the_circle_that_is_as_long(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked: list[Size] = []
    plain = RowModel.clearance_mm

    def look(model: RowModel, size: Size, count: int, scale: float) -> float:
        assert model.spec.opening is not None
        asked.append(model.spec.opening)
        return plain(model, size, count, scale)

    monkeypatch.setattr(RowModel, "clearance_mm", look)
    for gap in (0.0, 2.0):
        asked.clear()
        closing_sizes(model_of(plain_rectangle(8, 4), opening=O60, place="in"), D100, 14, 1.0, gap)
        assert asked[0].width_mm == pytest.approx(14 * (8 + gap) / math.pi)
        assert asked[1].width_mm == pytest.approx(1.6 * asked[0].width_mm)
        assert len(asked) <= 9
    asked.clear()
    found = closing_sizes(model_of(plain_rectangle(8, 4), opening=Size(60, 50), place="in"), D100, 10, 1.0, 2.0)
    assert found is not None
    assert found[0].opening is not None
    ovals = [size for size in asked if not size.is_circle]
    assert len(ovals) <= 7
    assert len(asked) <= 15
    assert ovals[0].width_mm == pytest.approx(found[0].opening.width_mm, rel=0.01)
    assert abs(ovals[1].width_mm / ovals[0].width_mm - 1) == pytest.approx(0.02, abs=5e-4)
