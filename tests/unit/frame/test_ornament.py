"""A motif is made ready, and flattened, once however often it is used."""

from __future__ import annotations

import pytest
from fixtures.plain_motifs import husk, leaf

from frameforge.card.preset import load_preset
from frameforge.frame import ornament, profile
from frameforge.frame.make import make_piece
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size
from frameforge.geometry.flatten import Flat, flatten_outline
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.motif.foot import to_motif
from frameforge.motif.motif import Motif
from frameforge.read.drawing import Drawing


@pytest.fixture
def flattened(monkeypatch: pytest.MonkeyPatch) -> list[Outline]:
    """The outlines of motifs that are flattened from now on, nothing being known of earlier ones."""
    ornament.ready.cache_clear()
    seen: list[Outline] = []

    def counted(outline: Outline, *rest: float) -> Flat:
        seen.append(outline)
        return flatten_outline(outline, *rest)

    monkeypatch.setattr(profile, "flatten_outline", counted)
    return seen


@pytest.mark.parametrize(("size", "count"), [(Size(100, 100), 6), (Size(100, 100), 18), (Size(150, 100), 18)])
def test_one_motif_is_flattened_once(flattened: list[Outline], size: Size, count: int) -> None:
    make_piece(
        PieceSpec("hoop", size, rows=(RowSpec((Ornament(leaf()),), count=count),)), load_preset("card-240-knife")
    )
    assert len(flattened) == 1


def test_each_kind_in_a_pattern_is_flattened_once_whatever_the_size(flattened: list[Outline]) -> None:
    motifs: tuple[Motif, ...] = (leaf(), husk())
    row = RowSpec(tuple(map(Ornament, motifs)), count=16, is_mirrored_every_other=False)
    for width in (140.0, 150.0, 160.0):
        make_piece(PieceSpec("hoop", Size(width, 110.0), rows=(row,)), load_preset("card-240-knife"))
    assert len(flattened) == 2


def _drawn_large() -> Motif:
    """Return a disc of 120 mm whose foot was found: wide enough as drawn, far too narrow at a tenth."""
    return to_motif(Drawing(None, None, (Region(circle(60j, 60)),)), "moon", least_neck_mm=1.5)


def test_a_drawing_made_small_stands_on_a_foot_that_the_card_bears() -> None:
    """Half the foot squared is what it is sunk times what is left of the disc above: w^2/4 = s (12 - s)."""
    small = ornament.ready(Ornament(_drawn_large()), 0.1, is_flipped=False, least_neck_mm=1.5)
    assert _drawn_large().foot_mm * 0.1 < 1.5
    assert small.foot_mm == pytest.approx(1.5, abs=1e-6)
    assert small.motif.sink_mm * (12 - small.motif.sink_mm) == pytest.approx(1.5**2 / 4, rel=1e-3)
    assert small.box.height_mm == pytest.approx(12)


def test_a_row_finds_its_scale_where_the_foot_as_drawn_would_be_too_narrow() -> None:
    row = RowSpec((Ornament(_drawn_large()),), count=24, gap_mm=2.0, scale="find")
    piece = make_piece(PieceSpec("hoop", Size(60, 60), rows=(row,)), load_preset("card-240-knife"))
    assert piece.rows[0].gap_mm == pytest.approx(2.0, abs=1e-6)
    assert piece.rows[0].repeats[0].motif.foot_mm >= 1.5
    assert "sunk" in piece.rows[0].repeats[0].motif.foot_note


def test_a_foot_that_is_asked_for_is_not_found_anew() -> None:
    row = RowSpec((Ornament(_drawn_large()),), count=6, foot_mm=1.6)
    piece = make_piece(PieceSpec("hoop", Size(200, 200), rows=(row,)), load_preset("card-240-knife"))
    assert piece.rows[0].repeats[0].motif.foot_mm == pytest.approx(1.6)
