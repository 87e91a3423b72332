"""What is typed besides every way that is tried: where it stands, and that motifs of several parts are offered tied."""

from __future__ import annotations

import pytest
from fixtures.plain_motifs import plain_rectangle
from fixtures.rows import KNIFE, row_of

from frameforge.frame import last_ways
from frameforge.frame.besides import besides, with_besides
from frameforge.frame.make import make_piece, with_ways_out
from frameforge.frame.spec import PieceSpec, Size
from frameforge.frame.ways import RefusedError, Way
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif

D30 = Size(30, 30)
ORDER = PieceSpec("hoop", D30)


def test_what_is_typed_besides_stands_before_what_is_told_in_brackets() -> None:
    assert with_besides("--count 17 (gap 2.41 mm)") == "--count 17 (gap 2.41 mm)"
    with besides("--loose tie"), besides("--mend point-touch"):
        assert with_besides("--count 17 (gap 2.41 mm)") == "--count 17 --loose tie --mend point-touch (gap 2.41 mm)"
        told = RefusedError("18 do not go.", [Way("--count 9", row={"count": 9})]).tried(ORDER, lambda _: True)
    assert told.say == "18 do not go. Take --count 9 --loose tie --mend point-touch."


def test_motifs_of_several_parts_are_offered_tied_where_no_way_holds_without(monkeypatch: pytest.MonkeyPatch) -> None:
    """A bar and a loose one 4 mm above it: whatever the count, the upper ones fall off."""
    monkeypatch.setattr(last_ways, "last_ways", lambda *_: [])
    bars = Motif("bars", (Region(rectangle(-3, 0, 3, 3)), Region(rectangle(-3, 7, 3, 10))), 6.0)
    order = PieceSpec("hoop", D30, rows=(row_of(bars, count=20),))
    fault = RefusedError("20 do not go.", [Way("--count 4", row={"count": 4})])
    assert with_ways_out(fault, order, order, KNIFE).say == "20 do not go. Take --count 4 --loose tie."
    assert make_piece(PieceSpec("hoop", D30, rows=(row_of(bars, count=4, loose="tie"),)), KNIFE).region
    plain = PieceSpec("hoop", D30, rows=(row_of(plain_rectangle(6, 3), count=20),))
    assert with_ways_out(fault, plain, plain, KNIFE).say == "20 do not go. Take --count 4."
