"""A run of ``make`` without a command line: progress, limits of a card, what is refused."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from frameforge.errors import FrameforgeError, GeometryError
from frameforge.job.findings import FindingsError
from frameforge.job.make import MakeOrder, make

TEXT = """
[files]
formats = "svg"
[card.thin]
preset = "card-240-laser"
least_slot = 0.1
[[piece]]
name = "a"
card = "thin"
size = 60
[[piece]]
name = "b"
size = 50
opening = 20
"""


def order(tmp_path: Path, text: str, **more: Any) -> MakeOrder:
    """Return an order for a recipe."""
    path = tmp_path / "a.toml"
    path.write_text(text, encoding="utf-8")
    return MakeOrder(path, {}, tmp_path / "out", **more)


def silent(done: int, total: int, name: str) -> None:
    """Take no notice of progress."""


def test_progress_counts_the_pieces(tmp_path: Path) -> None:
    said: list[tuple[int, int, str]] = []
    made = make(order(tmp_path, TEXT), lambda *step: said.append(step))
    assert said == [(0, 2, "a"), (1, 2, "b"), (2, 2, "")]
    assert [piece.name for piece in made.pieces] == ["a", "b"]


def test_limits_come_from_the_card(tmp_path: Path) -> None:
    first, second = make(order(tmp_path, TEXT), silent).pieces
    assert (first.preset.name, first.preset.least_slot_mm, first.preset.least_neck_mm) == ("card-240-laser", 0.1, 1.0)
    assert second.preset.name == "card-240-knife"


def test_measures_are_those_of_the_outline(tmp_path: Path) -> None:
    """A ring of radii 25 and 10 (mensuration of the circle)."""
    _, ring = make(order(tmp_path, TEXT), silent).pieces
    assert ring.area_mm2 == pytest.approx(3.141592653589793 * (25**2 - 10**2))
    assert ring.cut_length_mm == pytest.approx(3.141592653589793 * (50 + 20))
    assert (ring.box.width_mm, ring.box.height_mm) == pytest.approx((50, 50))
    assert ring.as_json()["inside_cuts"] == 1


def test_a_piece_that_cannot_be_made_leaves_the_others_unmade(tmp_path: Path) -> None:
    with pytest.raises(GeometryError, match=r"^b: "):
        make(order(tmp_path, TEXT.replace("opening = 20", "opening = 60")), silent)
    assert not (tmp_path / "out").exists()


def test_warnings_are_refused_with_their_findings(tmp_path: Path) -> None:
    text = TEXT + '[[piece.row]]\nmotif = "scallop"\ncount = 12\nscale = "find"\ngap = 0.5\n'
    with pytest.raises(FindingsError) as caught:
        make(order(tmp_path, text, refuses_warnings=True), silent)
    assert {finding.code for finding in caught.value.findings} >= {"narrow-slot"}
    assert {finding.piece for finding in caught.value.findings} == {"b"}
    assert caught.value.exit_code == 3


def test_a_text_that_does_not_hold_the_piece_is_never_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("frameforge.write.checked.check_svg", lambda *_, **__: ("a coordinate is off",))
    with pytest.raises(FrameforgeError) as caught:
        make(order(tmp_path, TEXT), silent)
    assert caught.value.exit_code == 70
    assert not (tmp_path / "out").exists()
