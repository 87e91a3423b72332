"""Ways out of a refusal where a motif touches itself in a point: told with what joins it, and only where that holds."""

from __future__ import annotations

import pytest
from fixtures.rows import KNIFE, row_of

from frameforge.check.touches import find_touches
from frameforge.errors import GeometryError
from frameforge.frame import last_ways
from frameforge.frame.spec import PieceSpec, Size
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.job import touching
from frameforge.job.mending import Mending
from frameforge.job.touching import made_whole
from frameforge.motif.motif import Motif

D30 = Size(30, 30)
PLATE = rectangle(-6, 0, 6, 12)


def _window(*points: complex) -> Region:
    return Region(Outline.from_points(points))


UPPER, LOWER = _window(-3 + 10j, 6j, 3 + 10j), _window(-3 + 2j, 3 + 2j, 6j)
HOURGLASS = Motif("hourglass", (Region(PLATE),), 12.0, window=(UPPER, LOWER))


@pytest.fixture(autouse=True)
def _no_last_ways(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leave out what is tried last of all: it takes long, and is put into words alike."""
    monkeypatch.setattr(last_ways, "last_ways", lambda *_: [])


def _refused(motif: Motif, *codes: str) -> str:
    order = PieceSpec("hoop", D30, rows=(row_of(motif, count=20, gap_mm=1.0),))
    with pytest.raises(GeometryError) as caught:
        made_whole(Mending(KNIFE, codes), order)
    return caught.value.say


def test_a_way_that_meets_a_touch_is_told_with_what_joins_it() -> None:
    say = _refused(HOURGLASS)
    words, _, told = say.partition(" Take ")
    assert words.startswith("20 hourglasses do not go round a 30 mm circle with gaps of 1 mm;")
    assert told.count("--count ") == told.count("--mend point-touch") == 1
    count = int(told.split()[1])
    order = PieceSpec("hoop", D30, rows=(row_of(HOURGLASS, count=count),))
    assert find_touches((made_whole(Mending(KNIFE, ()), order).region,))
    assert not find_touches((made_whole(Mending(KNIFE, ("point-touch",)), order).region,))


def test_what_touches_nowhere_or_is_joined_already_has_its_ways_as_they_are() -> None:
    plain = Motif("plate", (Region(PLATE),), 12.0)
    assert "--mend" not in _refused(plain)
    assert "--count" in _refused(plain)
    joined = _refused(HOURGLASS, "point-touch")
    assert "--count" in joined
    assert "--mend" not in joined


def test_where_joining_does_not_hold_the_refusal_stands_as_it_was(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[int] = []

    def cannot(*_: object) -> bool:
        asked.append(1)
        return False

    monkeypatch.setattr(touching, "_can_be_joined", cannot)
    assert "--" not in _refused(HOURGLASS)
    assert len(asked) == 2
