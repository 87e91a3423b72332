"""Sheets of card by name and by their sides."""

from __future__ import annotations

import csv
import os
from pathlib import Path

import pytest

from frameforge.card.sheet_size import A4, larger_sheets, named_sheet, parse_sheet, sheet_names
from frameforge.errors import InputError

PAPERS = Path(os.environ.get("FRAMEFORGE_OUTSIDE_DATA", "outside-data")) / "paper_sizes.csv"

NAMED_OTHERWISE = {
    "Letter (ANSI A)": ("Letter", "ANSI A"),
    "Tabloid/Ledger (ANSI B)": ("Tabloid", "ANSI B"),
    "craft 12x12": ("12x12in",),
    "craft 12x24": ("12x24in",),
    "craft 8x8": ("8x8in",),
    "craft 6x6": ("6x6in",),
}


def test_every_size_of_the_outside_table_is_known() -> None:
    if not PAPERS.exists():
        pytest.skip("outside data: the table of paper sizes is not here")
    with PAPERS.open(newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) > 30
    for row in rows:
        for name in NAMED_OTHERWISE.get(row["name"], (row["name"],)):
            size = parse_sheet(name)
            wanted = float(row["width_mm"]), float(row["height_mm"])
            assert (size.width_mm, size.height_mm) == pytest.approx(wanted, abs=1e-9), name
            if row["standard"] in ("ISO 216", "ASME Y14.1"):
                assert size.source == row["standard"]


def test_sizes_that_no_standard_has_say_so() -> None:
    assert named_sheet("Legal").source == named_sheet("Arch A").source == "common practice"
    assert parse_sheet("12x12in").source == ""


def test_iso_sheets_are_halves_of_one_another() -> None:
    """ISO 216: each size is the one before halved across its longer side, cut to whole millimetres."""
    for series in "AB":
        for n in range(10):
            large, small = named_sheet(f"{series}{n}"), named_sheet(f"{series}{n + 1}")
            assert (small.width_mm, small.height_mm) == (large.height_mm // 2, large.width_mm)


@pytest.mark.parametrize("name", ["A4", "a4", " A4 sheet ", "ISO A4", "A4 portrait", "DIN A4"])
def test_a_name_is_known_however_it_is_written(name: str) -> None:
    assert parse_sheet(name) == A4 == named_sheet("A4")


def test_a_sheet_lies_as_it_is_told() -> None:
    wide = parse_sheet("A4 landscape")
    assert (wide.name, wide.width_mm, wide.height_mm) == ("A4 landscape", 297, 210)
    assert wide.words == "an A4 landscape sheet"
    assert wide.portrait().width_mm == 210
    assert parse_sheet("Ledger portrait").width_mm == pytest.approx(279.4)
    assert parse_sheet("Ledger landscape") == parse_sheet("Ledger")


@pytest.mark.parametrize(
    ("value", "unit", "name", "sides"),
    [
        ("12x12in", "mm", "12 x 12 in", (304.8, 304.8)),
        ("8.5 x 11 in", "mm", "8 1/2 x 11 in", (215.9, 279.4)),
        ([304.8, 304.8], "mm", "304.8 x 304.8 mm", (304.8, 304.8)),
        ([12, 24], "in", "12 x 24 in", (304.8, 609.6)),
        ("300x200", "mm", "300 x 200 mm", (300, 200)),
        ("50 x 70 cm", "mm", "500 x 700 mm", (500, 700)),
    ],
)
def test_a_sheet_by_its_sides(value: object, unit: str, name: str, sides: tuple[float, float]) -> None:
    size = parse_sheet(value, unit)  # type: ignore[arg-type]
    assert (size.name, (size.width_mm, size.height_mm)) == (name, sides)
    assert parse_sheet(size.typed.strip('"')) == size


@pytest.mark.parametrize("name", sheet_names())
def test_every_name_can_be_typed_back(name: str) -> None:
    size = parse_sheet(name)
    again = parse_sheet(size.typed.strip('"'))
    assert (again.width_mm, again.height_mm) == (size.width_mm, size.height_mm)


@pytest.mark.parametrize(
    ("value", "say"),
    [
        ("A44", "the nearest is A4."),
        ("lettr", "the nearest is Letter."),
        ("quarto", "there are A0 to A10"),
        ("12x12", "12x12 mm is no sheet of card. Write 12x12in for inches."),
        ("12in", "not a sheet. Write A4, for example, or two sides: 12x12in"),
        ([1, 2, 3], "not a sheet. Write A4"),
        (True, "not a sheet. Write A4"),
        ("9000x100", "9000 mm is longer than any sheet of card."),
    ],
)
def test_what_is_no_sheet_is_told(value: object, say: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_sheet(value)
    assert say in caught.value.say


def test_larger_sheets_come_from_the_same_family_first() -> None:
    names = [size.name for size in larger_sheets(A4)]
    assert names[:4] == ["A3", "A2", "A1", "A0"]
    assert "A5" not in names
    assert larger_sheets(parse_sheet("12x12in"))[0].name == "12 x 24 in"
