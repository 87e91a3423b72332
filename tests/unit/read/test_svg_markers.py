"""Markers stand on the vertices of a path and turn with it.

Source: SVG 2 section 11.6.2 - 11.6.3 (start, mid, end; the direction at a vertex halves the turn there).
"""

from __future__ import annotations

import math
from xml.etree.ElementTree import fromstring

import pytest

from frameforge.geometry.affine import IDENTITY
from frameforge.read.path_grammar import scan_path
from frameforge.read.svg_curves import Subpath, to_subpaths
from frameforge.read.svg_markers import marker_map, marker_places, marker_view
from frameforge.read.svg_style import ROOT_STYLE


def path(data: str) -> tuple[Subpath, ...]:
    """Return the subpaths of path data."""
    return to_subpaths(scan_path(data).commands)


def test_an_open_path_has_its_own_directions_at_its_ends() -> None:
    places = marker_places(path("M0 0H10V10"))
    assert [which for which, _, _ in places] == ["start", "mid", "end"]
    assert [vertex for _, vertex, _ in places] == [0j, 10 + 0j, 10 + 10j]
    assert [math.degrees(turn) for _, _, turn in places] == pytest.approx([0, 45, 90])


def test_a_closed_path_halves_the_turn_at_its_joint_too() -> None:
    places = marker_places(path("M0 0H10V10H0Z"))
    assert [which for which, _, _ in places] == ["start", "mid", "mid", "mid", "end"]
    assert [math.degrees(turn) for _, _, turn in places] == pytest.approx([-45, 45, 135, -135, -45])


def test_curves_point_along_their_tangent_even_where_they_start_at_rest() -> None:
    places = marker_places(path("M0 0C0 0 5 5 10 0"))
    assert math.degrees(places[0][2]) == pytest.approx(45, abs=0.1)
    assert marker_places(()) == []
    assert [which for which, _, _ in marker_places(path("M1 1L1 1"))] == ["start", "end"]


def test_the_reference_point_lands_on_the_vertex() -> None:
    marker = fromstring(
        '<marker markerWidth="4" markerHeight="2" viewBox="0 0 8 4" refX="center" refY="4" orient="90"/>'
    )
    width, height, inner = marker_view(marker, ROOT_STYLE, 100 + 100j)
    assert (width, height) == (4, 2)
    affine = marker_map(marker, ("mid", 7 + 3j, 1.0), 5.0, inner, ROOT_STYLE)
    assert affine.apply(inner.apply(4 + 4j)) == pytest.approx(7 + 3j)
    # turned a quarter and five stroke widths large: +x of the content, half a unit a unit, goes down by 2.5
    assert affine.apply(inner.apply(5 + 4j)) - (7 + 3j) == pytest.approx(2.5j)


def test_a_start_marker_may_turn_round() -> None:
    marker = fromstring('<marker markerUnits="userSpaceOnUse" orient="auto-start-reverse"/>')
    start, end = (marker_map(marker, (which, 0j, 0.0), 1.0, IDENTITY, ROOT_STYLE) for which in ("start", "end"))
    assert start.apply(1 + 0j) == pytest.approx(-1)
    assert end.apply(1 + 0j) == pytest.approx(1)
