"""A piece looked at first: alike in all but what is found, made once, and forgotten with the next look."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from frameforge.desk.change import checked
from frameforge.frame.make import make_piece
from frameforge.job import mending
from frameforge.job.looking import is_looking_first, looking_first, remembered
from frameforge.job.made import MadePiece
from frameforge.job.make import built
from frameforge.job.motif_source import MotifSource

BEETLES = '[[piece]]\nsize = "100mm"\nopening = "60mm"\n%s[[piece.row]]\nmotif = "beetle"\ncount = %d\n'


def _built(text: str) -> list[MadePiece]:
    return built(checked(text), MotifSource(Path()), lambda done, of, name: None)


@pytest.mark.parametrize("more", ["", pytest.param('mend = "all"\n', marks=pytest.mark.slow)])
def test_a_look_shows_the_piece_that_is_judged_later_and_makes_it_once(
    monkeypatch: pytest.MonkeyPatch, more: str
) -> None:
    calls = []

    def counted(*given: object) -> object:
        calls.append(given)
        return make_piece(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(mending, "make_piece", counted)
    with looking_first():
        (look,) = _built(BEETLES % (more, 5))
    (judged,) = _built(BEETLES % (more, 5))
    assert len(calls) == 1
    assert bool(judged.findings) is not bool(more)
    assert judged.neighbours != look.neighbours == ({},)
    bare = replace(judged, neighbours=({},), piece=replace(judged.piece, findings=()))
    assert look == replace(bare, piece=replace(bare.piece, notes=look.piece.notes))
    assert bool(look.mended) == bool(more)
    _built(BEETLES % (more, 6))
    assert len(calls) == 2
    with looking_first():
        pass
    assert _built(BEETLES % (more, 5)) == [judged]
    assert len(calls) == 3


def test_a_look_that_ends_early_is_over() -> None:
    def look() -> None:
        with looking_first():
            assert is_looking_first()
            assert remembered((1, 2), lambda: [3]) == [3]
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        look()
    assert not is_looking_first()
    assert remembered((1, 2), lambda: [4]) == [3]
    assert remembered((1, 3), lambda: [4]) == [4]
