"""Tangles are refused before they are united, busy but honest drawings are not."""

from __future__ import annotations

import pytest

from frameforge.errors import InputError
from frameforge.geometry.affine import IDENTITY
from frameforge.read.path_grammar import scan_path
from frameforge.read.svg import read_drawing
from frameforge.read.svg_crowd import refuse_crowd
from frameforge.read.svg_curves import to_subpaths
from frameforge.read.svg_scene import Shape
from frameforge.read.svg_style import ROOT_STYLE, inherit


def shape(data: str, **properties: str) -> Shape:
    """Return a path in mm."""
    return Shape("path", to_subpaths(scan_path(data).commands), IDENTITY, inherit(ROOT_STYLE, properties))


def zigzag(many: int) -> str:
    """Return a line that goes from side to side, crossing most of itself each time."""
    return "M0 0" + "".join(f"L{i % 2 * 100} {i * 37 % 101 + i * 1e-3:.3f}" for i in range(many))


def test_a_tangle_of_lines_is_refused() -> None:
    with pytest.raises(InputError, match=r"^leaf\.svg: its lines cross each other some \d+ times, 25000 is the most"):
        refuse_crowd([shape(zigzag(900))], where="leaf.svg")


def test_a_tangle_with_a_stroke_counts_for_more() -> None:
    refuse_crowd([shape(zigzag(200))], where="leaf.svg")
    with pytest.raises(InputError):
        refuse_crowd([shape(zigzag(200), stroke="red")], where="leaf.svg")


def test_a_basket_weave_and_a_lace_of_discs_pass() -> None:
    weave = [shape(f"M0 {i * 4}H120M{i * 4} 0V120", fill="none", stroke="red") for i in range(30)]
    refuse_crowd(weave, where="leaf.svg")
    disc = "a2.2 2.2 0 0 1 4.4 0a2.2 2.2 0 0 1-4.4 0z"
    refuse_crowd([shape(f"M{i % 30 * 4} {i // 30 * 4}{disc}") for i in range(900)], where="leaf.svg")


def test_a_curve_that_swings_out_far_between_ends_that_lie_near_is_refused() -> None:
    """Its handle lies 400 km off, so that two thirds of the way along it is itself 178 km from its ends."""
    text = '<svg width="24mm" height="24mm" viewBox="0 0 24 24"><path d="M0 0C1 9 10 4e8 8 0z"/></svg>'
    with pytest.raises(InputError, match=r"^leaf\.svg, path 1: it lies 177778 m off the page, 100 m is the most\."):
        read_drawing(text.encode(), where="leaf.svg")


def test_places_next_to_nothing_from_0_are_filled_without_a_warning() -> None:
    """What crosses there leaves faces whose heights differ by 1e-300."""
    ring = '<path d="M.01 .01A.2 .03 0 1 0 .03 .13A.02 .06 0 1 0 .02 .17L.15 0z" fill-rule="evenodd"/>'
    bow = '<polygon points="-.03 .15 .14 .1 1e-300 -.04154 1e-300 .13"/>'
    text = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="a">{ring}{bow}</svg>'
    assert read_drawing(text.encode(), where="leaf.svg").join
