"""The card left: waste hatched, every bit numbered, the smallest first."""

from __future__ import annotations

import itertools
import re

import pytest
from fixtures.raster import colour_at, raster
from lxml import etree

from frameforge.geometry.arc import Arc
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle
from frameforge.picture.as_cut import as_cut_picture, bits_of, bits_words, number_spots
from frameforge.picture.elements import mm_to_px
from frameforge.picture.letter_widths import text_width
from frameforge.picture.look import CARD_COLOURS

PLATE = Region(
    rectangle(-50, -30, 50, 30),
    tuple(
        hole.reversed() for hole in (circle(-20 + 10j, 6), circle(15 - 5j, 0.8), circle(15 + 9j, 0.8), circle(30, 3))
    ),
)


def numbers(svg: str) -> list[tuple[str, complex]]:
    """The numbers of the bits and where they stand."""
    texts = etree.fromstring(svg.encode()).iter("{*}text")
    return [(t.text, complex(float(t.get("x")), float(t.get("y")))) for t in texts if re.fullmatch(r"\d+", t.text)]


def waste(svg: str) -> list[complex]:
    """The middles of the hatched bits, in the order they are drawn."""
    found = []
    for path in etree.fromstring(svg.encode()).iter("{*}path"):
        if path.get("fill") == "url(#waste)":
            pairs = re.findall(r"(?:M|L|\d )(?=-?\d)(-?[\d.]+) (-?[\d.]+)(?= [AMLCZ])", path.get("d"))
            points = [complex(float(x), float(y)) for x, y in pairs]
            found.append(sum(points) / len(points))
    return found


def _arc(bit: Region) -> Arc:
    arc = bit.outer.segments[0]
    assert isinstance(arc, Arc)
    return arc


def test_bits_are_numbered_from_the_smallest() -> None:
    assert [round(abs(_arc(bit).u), 1) for bit in bits_of([PLATE])] == [0.8, 0.8, 3.0, 6.0]
    svg = as_cut_picture("plate", (PLATE,), "sand")
    assert [words for words, _ in numbers(svg)] == ["1", "2", "3", "4"]
    assert len(waste(svg)) == 4


def test_equal_bits_are_numbered_clockwise_from_the_top() -> None:
    ring = Region(circle(0, 30), tuple(circle(20j * (1j**-k), 2).reversed() for k in (2, 0, 3, 1)))
    assert [round(_arc(bit).center.real) for bit in bits_of([ring])] == [0, 20, 0, -20]


def test_the_count_and_the_smallest_are_told() -> None:
    assert bits_words(bits_of([PLATE])) == "4 bits to pick out, the smallest 2.0 mm2"
    assert bits_words(()) == "nothing to pick out"
    one = Region(circle(0, 30), (circle(0, 2).reversed(),))
    assert bits_words(bits_of([one])) == "1 bit to pick out, of 12.6 mm2"
    assert "4 bits to pick out, the smallest 2.0 mm2." in as_cut_picture("plate", (PLATE,))


def test_numbers_stand_in_large_bits_and_beside_small_ones() -> None:
    svg = as_cut_picture("plate", (PLATE,), "sand")
    scale = (900 - 56 - 40) / 100
    middle = complex(450, 28 + 20 + 24 + 30 * scale)
    places = dict(numbers(svg))
    for words, at, radius in (("4", -20 + 10j, 6), ("3", 30, 3)):
        spot = middle + at.conjugate() * scale if isinstance(at, complex) else middle + at * scale
        assert abs(places[words] - spot) < radius * scale
    stood = list(places.values())
    for i, place in enumerate(stood):
        assert all(abs(place - other) > 8 for other in stood[:i])
    image = raster(svg)
    assert colour_at(image, middle + complex(-45, -25) * scale) == CARD_COLOURS["sand"]


def test_hatching_shows_slate_lines_on_the_bench() -> None:
    svg = as_cut_picture("plate", (PLATE,), "sand")
    image = raster(svg)
    scale = (900 - 56 - 40) / 100
    middle = complex(450, 28 + 20 + 24 + 30 * scale)
    seen = {colour_at(image, middle + complex(30 * scale + x, 12)) for x in range(-6, 7)}
    assert len(seen) > 2, "lines and bench"


@pytest.mark.parametrize("count", [40, 90])
def test_crowded_numbers_lie_on_no_bit(count: int) -> None:
    holes = tuple(circle(complex(-45 + 10 * (k % 10), -25 + 6 * (k // 10)), 0.5).reversed() for k in range(count))
    svg = as_cut_picture("sieve", (Region(rectangle(-52, -32, 52, 32), holes),))
    scale = (900 - 56 - 40) / 104
    middles = [complex(450, 28 + 20 + 24 + 32 * scale) + _arc(bit).center.conjugate() * scale
               for bit in bits_of([Region(rectangle(-52, -32, 52, 32), holes)])]  # fmt: skip
    stood = [place - 3.6j for _, place in numbers(svg)]
    assert len(stood) == count
    for bit, place in zip(middles, stood, strict=True):
        assert min(abs(place - other) for other in middles) > 0.5 * scale + 4
        assert abs(place - bit) == pytest.approx(min(abs(place - other) for other in middles)), "nearest to its own"


def test_where_there_is_no_room_numbers_are_left_out_and_none_lies_on_another() -> None:
    """A sieve drawn .8 px to a mm, its holes 1.6 px wide and 4 px apart, a number 7 px wide at least."""
    holes = tuple(circle(complex(-95 + 5 * (k % 39), -45 + 5 * (k // 39)), 1).reversed() for k in range(19 * 39))
    bits = bits_of([Region(rectangle(-100, -50, 100, 50), (*holes, circle(97, 1).reversed()))])
    spots = number_spots(bits, mm_to_px(0.8, 0))
    boxes = [
        (at, text_width(str(number), 10, is_bold=True) / 2)
        for number, at in enumerate(spots, start=1)
        if at is not None
    ]
    assert 40 < len(boxes) < len(bits)
    for (one, half), (other, wide) in itertools.combinations(boxes, 2):
        assert abs(one.real - other.real) > half + wide or abs(one.imag - other.imag) > 7.2
