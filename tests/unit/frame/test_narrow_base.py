"""Ovals narrower than a foot: refused with what would do, and what would do does."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest
from fixtures.plain_motifs import arch, disc, husk, leaf, plain_rectangle
from fixtures.rows import D100, model_of

from frameforge.errors import GeometryError
from frameforge.frame import narrow_base
from frameforge.frame.fit import fit_row
from frameforge.frame.narrow_base import check_ends
from frameforge.frame.spec import Size
from frameforge.motif.bare_foot import bare_foot
from frameforge.motif.motif import Motif


@pytest.mark.parametrize("size", [Size(200, 10), Size(10, 200), Size(120, 16)])
def test_an_oval_no_wider_than_the_foot_is_refused_with_numbers(size: Size) -> None:
    with pytest.raises(GeometryError, match=r"foot of 16 mm: no arch can stand at its ends") as caught:
        check_ends(model_of(arch(), size=size), size, 1.0)
    said = str(caught.value)
    width, height = re.findall(r"--size ([\d.]+)x([\d.]+)mm", said)[0]
    check_ends(model_of(arch()), Size(float(width), float(height)), 1.0)
    assert max(float(width), float(height)) == max(size.width_mm, size.height_mm)
    scale = float(re.findall(r"--scale ([\d.]+)\.", said)[0])
    check_ends(model_of(arch()), size, scale)
    with pytest.raises(GeometryError):
        check_ends(model_of(arch()), size, scale + 0.02)


@pytest.mark.slow
def test_where_a_count_is_stated_it_goes_round_with_what_is_offered() -> None:
    with pytest.raises(GeometryError) as caught:
        fit_row(model_of(arch(), count=12), Size(200, 10))
    width, height = re.findall(r"--size ([\d.]+)x([\d.]+)mm", str(caught.value))[0]
    assert fit_row(model_of(arch(), count=12), Size(float(width), float(height))).count == 12
    scale = float(re.findall(r"--scale ([\d.]+)\.", str(caught.value))[0])
    assert fit_row(model_of(arch(), count=12, scale=scale), Size(200, 10)).scale == scale


def test_a_bare_foot_is_offered_by_its_width() -> None:
    with pytest.raises(GeometryError, match=r"or --foot 9\.9mm\."):
        check_ends(model_of(bare_foot(30.0)), Size(200, 10), 1.0)


def test_a_scale_that_the_card_cannot_bear_is_not_offered() -> None:
    with pytest.raises(GeometryError) as caught:
        check_ends(model_of(leaf()), Size(40, 1), 1.0)
    assert "--scale" not in str(caught.value)


@pytest.mark.parametrize("size", [Size(200, 16.1), Size(12, 12)])
def test_wider_ovals_circles_and_motifs_without_a_foot_are_let_be(size: Size) -> None:
    check_ends(model_of(arch()), size, 1.0)
    check_ends(model_of(disc(6)), Size(200, 4), 1.0)


def test_without_a_count_only_the_seats_decide_what_is_offered() -> None:
    with pytest.raises(GeometryError, match=r"Take --size 60x16\.1mm or --scale 0\.87\.$"):
        check_ends(model_of(arch(), size=Size(60, 14), gap_mm=3.0), Size(60, 14), 1.0)


def test_an_oval_shorter_than_the_foot_is_offered_a_smaller_motif_alone() -> None:
    with pytest.raises(GeometryError, match=r"foot of 80 mm: no arch can stand at its ends\. Take --scale 0\.24\.$"):
        check_ends(model_of(arch(40), size=Size(60, 20), count=3), Size(60, 20), 1.0)
    with pytest.raises(GeometryError, match=r"no arch can stand at its ends\. Take a narrower foot\.$"):
        check_ends(model_of(arch(), size=Size(17, 15.9), count=60), Size(17, 15.9), 1.0)


@pytest.mark.parametrize(
    ("motifs", "size", "more", "line"),
    [
        ((arch(),), Size(120, 16), {}, "a 120 x 16 mm oval is too narrow for a foot of 16 mm: no arch can stand at "
         "its ends. Take --size 120x16.1mm or --scale 0.99."),
        ((arch(),), Size(60, 14), {"count": 4, "gap_mm": 2.0}, "a 60 x 14 mm oval is too narrow for a foot of 16 mm: "
         "no arch can stand at its ends. Take --size 60x17.7mm or --scale 0.79."),
        ((leaf(), arch()), Size(14, 60), {}, "a 14 x 60 mm oval is too narrow for a foot of 16 mm: no arch can stand "
         "at its ends. Take --size 16.1x60mm or --scale 0.87."),
    ],
)  # fmt: skip
def test_refusals_word_for_word(motifs: tuple[Motif, ...], size: Size, more: dict[str, Any], line: str) -> None:
    with pytest.raises(GeometryError) as caught:
        check_ends(model_of(*motifs, size=size, **more), size, 1.0)
    assert str(caught.value) == f"hoop: {line}"
    assert (caught.value.code, caught.value.numbers) == ("no-seat", {"foot_mm": 16.0})


def test_a_row_that_is_smaller_already_is_told_by_its_own_foot() -> None:
    with pytest.raises(GeometryError, match=r"for a foot of 8 mm: .* Take --size 60x8\.1mm or --scale 0\.43\.$"):
        check_ends(model_of(arch()), Size(60, 7), 0.5)


def test_the_scale_at_which_a_stated_count_has_room() -> None:
    """Nine tenths of the edge's share, less the gap, over the widest motif or foot."""
    length = 100 * math.pi
    scale = narrow_base._scale_for_count
    assert scale(model_of(arch(), count=4, gap_mm=2.0), D100, 1.0) == pytest.approx(0.9 * (length / 4 - 2) / 16)
    assert scale(model_of(arch(), count=4), D100, 1.0) == pytest.approx(0.9 * length / 4 / 16)
    assert scale(model_of(arch(), count=4), D100, 0.5) == pytest.approx(0.9 * length / 4 / 16)
    assert scale(model_of(leaf(), husk(), count=4), D100, 1.0) == pytest.approx(
        0.9 * length / 4 / max(ready.box.width_mm for ready in model_of(leaf()).readies(1, 1.0))
    )
    assert scale(model_of(arch(), gap_mm=2.0), D100, 1.0) == math.inf
    assert scale(model_of(arch(), count="most", gap_mm=2.0), D100, 1.0) == math.inf


def test_what_holds_has_seats_at_its_ends_and_room_for_its_count() -> None:
    def holds(size: Size, **more: Any) -> bool:
        return narrow_base._holds(model_of(plain_rectangle(16, 4), **more), size, 1.0)

    assert holds(D100)
    assert holds(D100, count=19)
    assert not holds(D100, count=20)
    assert holds(D100, count=17, gap_mm=2.0)
    assert not holds(D100, count=18, gap_mm=2.0)
    assert not holds(Size(100, 15.9))
    assert not holds(Size(60, 20), count=1, place="window", inset_mm=12.0), "where there is no edge there is no seat"


def test_ovals_and_scales_are_tried_in_six_steps(monkeypatch: pytest.MonkeyPatch) -> None:
    """Feet of 16 mm and a tenth: 1, 1.1, 1.3, 1.6, 2 and 2.5 times as wide, as long as that is no longer."""
    tried: list[tuple[float, float, float]] = []

    def holds(_: object, size: Size, scale: float) -> bool:
        tried.append((size.width_mm, size.height_mm, scale))
        return False

    monkeypatch.setattr(narrow_base, "_holds", holds)
    assert narrow_base._wider(model_of(arch()), Size(60, 14), 1.0, 16.0) == []
    assert tried == [(60, short, 1.0) for short in (16.1, 17.7, 20.9, 25.7, 32.1, 40.1)]
    tried.clear()
    assert narrow_base._wider(model_of(arch()), Size(14, 25.7), 1.0, 16.0) == []
    assert tried == [(short, 25.7, 1.0) for short in (16.1, 17.7, 20.9)]
    tried.clear()
    assert narrow_base._smaller(model_of(arch()), Size(60, 14), 2.0, 32.0) == []
    assert tried == [(60, 14, scale) for scale in (0.87, 0.79, 0.67, 0.54, 0.43, 0.34)]
