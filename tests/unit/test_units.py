"""Lengths, sizes and directions as makers write them."""

from __future__ import annotations

import math

import pytest

from frameforge import units
from frameforge.errors import InputError


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("57mm", 57),
        ("57", 57),
        ("57 mm", 57),
        (" 57.5 mm ", 57.5),
        ("57,5 mm", 57.5),
        ("57,5", 57.5),
        (".5cm", 5),
        ("8.2 cm", 82),
        ("0.3", 0.3),
        ("-2mm", -2),
        ("−2mm", -2),
        # 1 in = 25.4 mm exactly: international yard and pound agreement, 1959
        ("4in", 101.6),
        ("1 inch", 25.4),
        ("2 inches", 50.8),
        ("2 1/4 in", 57.15),
        ("2-1/4 in", 57.15),
        ('3 1/4"', 82.55),
        ("3 1/4''", 82.55),
        ("3¼″", 82.55),
        ("3 ¼ in", 82.55),
        ("3 1⁄4 in", 82.55),
        ("½in", 12.7),
        ("1/2 in", 12.7),
        ("2\u00a01/4\u202fin", 57.15),
        ("5”", 127),
        ("100 MM", 100),
        ("100 millimetres", 100),
        ("10 centimeter", 100),
        (57, 57),
        (57.5, 57.5),
    ],
)
def test_length_is_read(text: object, mm: float) -> None:
    assert units.parse_length_mm(text) == pytest.approx(mm, rel=1e-15)


def test_bare_number_takes_the_unit_of_the_recipe() -> None:
    assert units.parse_length_mm("2 1/4", unit="in") == pytest.approx(57.15, rel=1e-15)
    assert units.parse_length_mm(4, unit="in") == pytest.approx(101.6, rel=1e-15)
    assert units.parse_length_mm("4mm", unit="in") == 4
    assert units.parse_size_mm([6, "100mm"], unit="in") == pytest.approx((152.4, 100), rel=1e-15)


@pytest.mark.parametrize(
    ("text", "say"),
    [
        ("100 milimeters", 'no such unit. Write mm, cm or in, for example 100mm, 4in, "3 1/4 in".'),
        ("10px", "no such unit"),
        ("3ft", "no such unit"),
        ("wide", "no number"),
        ("", "no number"),
        ("1,000 mm", "a comma with three digits can be read two ways. Write 1000 or 1.000."),
        ("3 4 5", "more than one number"),
        ("1.2.3mm", "more than one number"),
        ("1/0 in", "a fraction over 0"),
        ("1e400", "no such unit"),
        (math.inf, "not a number"),
        (math.nan, "not a number"),
        (True, "not a length"),
        (None, "not a length"),
        ([3], "not a length"),
    ],
)
def test_what_is_no_length_is_refused(text: object, say: str) -> None:
    with pytest.raises(InputError) as caught:
        units.parse_length_mm(text)
    assert say in str(caught.value)


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("100mm", (100, 100)),
        ("150x100mm", (150, 100)),
        ("150x100", (150, 100)),
        ("150 × 100 mm", (150, 100)),
        ("150mm x 10cm", (150, 100)),
        ("12x12in", (304.8, 304.8)),
        ("12in x 12in", (304.8, 304.8)),
        ('5 1/2" x 4"', (139.7, 101.6)),
        ("5½x4 in", (139.7, 101.6)),
        ([150, 100], (150, 100)),
        ((150.0, "10cm"), (150, 100)),
        (76, (76, 76)),
    ],
)
def test_size_is_read(text: object, size: tuple[float, float]) -> None:
    assert units.parse_size_mm(text) == pytest.approx(size, rel=1e-15)


@pytest.mark.parametrize(
    ("text", "say"),
    [
        ("0mm", "above 0"),
        ("-5", "above 0"),
        ("150x0", "above 0"),
        ("1x2x3", "one length for a circle or two"),
        ([], "one length for a circle or two"),
        ("100x", "no such unit"),
        ("x100", "no number"),
        ("100 milimeters", "no such unit"),
        ({}, "not a length"),
    ],
)
def test_what_is_no_size_is_refused(text: object, say: str) -> None:
    with pytest.raises(InputError) as caught:
        units.parse_size_mm(text)
    assert say in str(caught.value)


@pytest.mark.parametrize(
    ("text", "deg"),
    [("22.5deg", 22.5), ("330 deg", 330), ("15°", 15), ("-15 degrees", -15), (7, 7), ("0", 0), ("22,5", 22.5)],
)
def test_angle_is_read(text: object, deg: float) -> None:
    assert units.parse_deg(text) == deg


@pytest.mark.parametrize("text", ["15mm", "half", "", None, True, math.nan])
def test_what_is_no_angle_is_refused(text: object) -> None:
    with pytest.raises(InputError):
        units.parse_deg(text)


def test_directions_are_words_or_degrees() -> None:
    words = ("top", "right", " Bottom", "left", "30deg")
    assert [units.parse_direction_deg(word) for word in words] == [0, 90, 180, 270, 30]
    with pytest.raises(InputError, match="Write top, right, bottom, left"):
        units.parse_direction_deg("upwards")


def test_a_lone_unit_is_seen() -> None:
    assert all(units.is_lone_unit(word) for word in ("mm", "MM", "in", "″", "inches", '"'))
    assert not any(units.is_lone_unit(word) for word in ("4mm", "badge.toml", "", "arch"))


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (107.873, "107.9 mm (4 1/4 in)"),
        (57.15, "57.2 mm (2 1/4 in)"),
        (100, "100 mm (3.94 in)"),
        (76, "76 mm (2.99 in)"),
        (25.4, "25.4 mm (1 in)"),
        (12.7, "12.7 mm (1/2 in)"),
        (0.3, "0.3 mm (0.01 in)"),
        (0, "0 mm (0.00 in)"),
    ],
)
def test_length_is_echoed_in_both_units(mm: float, text: str) -> None:
    assert units.format_both(mm) == text


def test_size_is_echoed_in_both_units() -> None:
    assert units.format_size(150, 100) == "150 x 100 mm (5.91 x 3.94 in)"
    assert units.format_size(114.3, 101.6) == "114.3 x 101.6 mm (4 1/2 x 4 in)"
    assert units.format_size(114.3, 113.9) == "114.3 x 113.9 mm (4.50 x 4.48 in)"
    assert units.format_size(100, 100) == "100 mm (3.94 in)"


@pytest.mark.parametrize(
    ("mm", "text"),
    [(2.4199, "2.41 mm"), (2.0, "2 mm"), (1.99999999, "2 mm"), (1.9989, "1.99 mm"), (0.1 + 0.2, "0.3 mm"), (0, "0 mm")],
)
def test_gaps_are_cut_and_never_rounded_up(mm: float, text: str) -> None:
    assert units.format_floor(mm) == text


def test_in_a_column_points_stand_below_one_another() -> None:
    column = [units.format_floor(mm, in_column=True) for mm in (12, 3.5, 0.997, 1.9999999)]
    assert column == ["12.00 mm", "3.50 mm", "0.99 mm", "2.00 mm"]


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (13, "13 mm (0.51 in)"),
        (4.319, "4.31 mm (0.17 in)"),
        (5.5, "5.5 mm (0.21 in)"),
        (12.7, "12.7 mm (1/2 in)"),
        (12.69, "12.69 mm (0.49 in)"),
        (0, "0 mm (0.00 in)"),
    ],
)
def test_widths_are_cut_in_inches_too(mm: float, text: str) -> None:
    """5.5 mm are 0.2165 in."""
    assert units.format_floor_both(mm) == text


def test_what_is_below_a_limit_reads_below_it() -> None:
    assert [units.format_floor_mm2(area) for area in (3.999, 4, 2.5)] == ["3.99 mm2", "4 mm2", "2.5 mm2"]
    assert [units.format_floor_deg(deg) for deg in (19.996, 20, 12.345)] == ["19.99 deg", "20 deg", "12.34 deg"]


def test_degrees_are_short() -> None:
    assert [units.format_deg(deg) for deg in (22.5, 360 / 7, -0.001)] == ["22.5 deg", "51.43 deg", "0 deg"]


@pytest.mark.parametrize("clock_deg", [0, 30, 90, 123.4, 270, 359.999])
def test_clock_and_mathematics_are_inverse(clock_deg: float) -> None:
    """Right is 90 on the clock and 0 in mathematics: both measure from named axes (from the definition)."""
    assert units.to_clock_deg(units.to_math_rad(clock_deg)) == pytest.approx(clock_deg, abs=1e-12)
    assert units.to_math_rad(90) == 0
    assert units.to_clock_deg(-math.pi / 2) == pytest.approx(180)


@pytest.mark.parametrize("text", ["4in", "3 1/4 in", '4"', "4″", "12 x 12 inches", "3¼''"])
def test_inches_are_seen_by_their_unit(text: str) -> None:
    assert units.is_in_inches(text)


@pytest.mark.parametrize("text", ["4", "100mm", "150x100", "10 cm", "in the", "find", "", "x"])
def test_what_is_not_typed_in_inches(text: str) -> None:
    assert not units.is_in_inches(text)
