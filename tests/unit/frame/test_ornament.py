"""A motif is made ready, and flattened, once however often it is used."""

from __future__ import annotations

import pytest
from fixtures.plain_motifs import husk, leaf

from frameforge.card.preset import load_preset
from frameforge.frame import ornament, profile
from frameforge.frame.make import make_piece
from frameforge.frame.spec import Ornament, PieceSpec, RowSpec, Size
from frameforge.geometry.flatten import flatten_outline
from frameforge.geometry.outline import Outline
from frameforge.motif.motif import Motif


@pytest.fixture
def flattened(monkeypatch: pytest.MonkeyPatch) -> list[Outline]:
    """The outlines of motifs that are flattened from now on, nothing being known of earlier ones."""
    ornament.ready.cache_clear()
    seen: list[Outline] = []

    def counted(outline: Outline, *rest: float) -> profile.Flat:
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
