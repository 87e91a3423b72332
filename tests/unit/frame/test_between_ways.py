"""What is told of an edge between that does not go with its motifs, where no other edge alone will do."""

from __future__ import annotations

import pytest
from fixtures.plain_motifs import plain_rectangle
from fixtures.rows import KNIFE, row_of

from frameforge.errors import InputError
from frameforge.frame import between_ways
from frameforge.frame.between_ways import with_between_ways
from frameforge.frame.spec import PieceSpec, Size

ROW = row_of(plain_rectangle(6, 4), count=6, between="level", depth_mm=2.0)
ORDER = PieceSpec("hoop", Size(30, 30), rows=(ROW,))
FAULT = InputError("between level goes with corner motifs. Take --between flat.", where="hoop")


def _told(holds: object, monkeypatch: pytest.MonkeyPatch, ways: dict[str, list[str]]) -> str:
    monkeypatch.setattr(between_ways, "last_ways", lambda spec, *_: ways.get(spec.rows[0].between, []))
    return with_between_ways(FAULT, ORDER, KNIFE, lambda spec: spec.rows[0].place == holds).say.partition(". ")[2]


def test_an_edge_with_more_is_told_the_edge_kept_as_it_is_last(monkeypatch: pytest.MonkeyPatch) -> None:
    both = {"flat": ["--count 4"], "keep": ["--count 5"]}
    assert _told(None, monkeypatch, both) == "Take --between flat --count 4."
    assert _told(None, monkeypatch, {"keep": ["--count 5"]}) == "Take --between keep without a depth --count 5."


def test_windows_come_next_and_nothing_untried_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    assert _told("window", monkeypatch, {}) == "Take --between keep without a depth --place window."
    assert _told(None, monkeypatch, {}) == "Take another motif."
