"""Ovals narrower than a foot: refused with what would do, and what would do does."""

from __future__ import annotations

import re

import pytest
from fixtures.plain_motifs import arch, disc, leaf
from fixtures.rows import model_of

from frameforge.errors import GeometryError
from frameforge.frame.fit import fit_row
from frameforge.frame.narrow_base import check_ends
from frameforge.frame.spec import Size
from frameforge.motif.bare_foot import bare_foot


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
