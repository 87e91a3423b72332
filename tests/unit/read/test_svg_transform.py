"""Transform lists become affine maps.

Source: SVG 1.1 (second edition) section 7.6 (the matrices of each function); CSS Transforms 1 for units and origin.
"""

from __future__ import annotations

import math

import pytest

from frameforge.geometry.affine import IDENTITY, Affine
from frameforge.read.svg_transform import read_angle, read_origin, read_transform


@pytest.mark.parametrize(
    ("text", "point", "image"),
    [
        ("translate(3,4)", 1 + 1j, 4 + 5j),
        ("translate(3)", 1 + 1j, 4 + 1j),
        ("translateY(1in)", 1 + 1j, 1 + 97j),
        ("scale(2)", 1 + 1j, 2 + 2j),
        ("scale(2-3)", 1 + 1j, 2 - 3j),
        ("scaleX(5)", 1 + 1j, 5 + 1j),
        ("rotate(90)", 1 + 0j, 1j),
        ("rotate(90 1 1)", 1 + 0j, 2 + 1j),
        ("rotate(.25turn)", 1 + 0j, 1j),
        ("rotate(100grad)", 1 + 0j, 1j),
        ("skewX(45)", 2 + 3j, 5 + 3j),
        ("skewY(45)", 2 + 3j, 2 + 5j),
        ("matrix(1 2 3 4 5 6)", 1 + 1j, 9 + 12j),
        ("translate(10,0)rotate(90),scale(2)", 1 + 0j, 10 + 2j),
        ("matrix(1,0,0,1,0,0)", 7 + 2j, 7 + 2j),
    ],
)
def test_each_function_maps_as_its_matrix_says(text: str, point: complex, image: complex) -> None:
    assert read_transform(text).apply(point) == pytest.approx(image, abs=1e-12)


def test_nothing_and_none_leave_all_in_place() -> None:
    assert read_transform("") == read_transform(" none ") == IDENTITY


@pytest.mark.parametrize(
    "text", ["qwe", "rotate()", "rotate(1,2)", "scale(1 2 3)", "matrix(1 2 3)", "translate(1 2", "scale(1e400)"]
)
def test_what_cannot_be_read_is_said(text: str) -> None:
    with pytest.raises(ValueError, match="is no transform"):
        read_transform(text)


def test_a_run_of_turns_equals_one() -> None:
    turned = read_transform("rotate(10) " * 9)
    assert turned.apply(1 + 0j) == pytest.approx(1j)
    assert isinstance(turned, Affine)


def test_origins_by_words_and_lengths() -> None:
    box = (10.0, 20.0, 100.0, 50.0)
    for text, wanted in (
        ("center", 60 + 45j), ("right bottom", 110 + 70j), ("top left", 10 + 20j), ("5 10%", 15 + 25j),
        ("top", 60 + 20j),
    ):  # fmt: skip
        assert read_origin(text, box, 16) == pytest.approx(wanted)


def test_angles() -> None:
    assert read_angle("45") == 45
    assert read_angle("1rad") == pytest.approx(math.degrees(1))
    assert read_angle("auto") == 0
