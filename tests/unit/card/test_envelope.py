"""Envelopes and sheets by name, boxes and lids by their size, and the room that each leaves."""

from __future__ import annotations

import csv
import os
from pathlib import Path

import pytest

from frameforge.card.envelope import EACH_SIDE_MM, Envelope, envelope_names, named_envelope
from frameforge.errors import InputError

PAPERS = Path(os.environ.get("FRAMEFORGE_OUTSIDE_DATA", "outside-data")) / "paper_sizes.csv"

# ISO 269 (from memory): the envelopes that hold A4 whole, halved, quartered and in thirds.
ISO_269 = {"C4": (229, 324), "C5": (162, 229), "C6": (114, 162), "DL": (110, 220)}


@pytest.mark.parametrize(("name", "size"), ISO_269.items())
def test_iso_envelopes_have_their_size(name: str, size: tuple[float, float]) -> None:
    envelope = named_envelope(name)
    assert (envelope.width_mm, envelope.height_mm, envelope.kind) == (*size, "envelope")
    assert (envelope.short_mm, envelope.long_mm) == (size[0] - 6, size[1] - 6)
    assert EACH_SIDE_MM == 3


def test_iso_sheets_are_halves_of_one_another() -> None:
    """ISO 216: A(n + 1) is A(n) halved across its longer side, cut to whole millimetres."""
    for series in "AB":
        for n in range(10):
            try:
                large, small = named_envelope(f"{series}{n}"), named_envelope(f"{series}{n + 1}")
            except InputError:
                continue
            assert (small.width_mm, small.height_mm) == (large.height_mm // 2, large.width_mm)


def test_every_name_of_the_outside_table_of_iso_216_is_known() -> None:
    if not PAPERS.exists():
        pytest.skip("outside data: the table of paper sizes is not here")
    with PAPERS.open(newline="", encoding="utf-8") as file:
        rows = [row for row in csv.DictReader(file) if row["standard"] == "ISO 216"]
    assert len(rows) > 20
    for row in rows:
        known = named_envelope(row["name"])
        assert (known.width_mm, known.height_mm) == (float(row["width_mm"]), float(row["height_mm"]))


@pytest.mark.parametrize("name", ["C6", "c6", " C6 envelope ", "ISO C6", "C 6"])
def test_a_name_is_known_however_it_is_written(name: str) -> None:
    assert named_envelope(name) == named_envelope("C6")


def test_envelopes_of_the_united_states_go_by_inches() -> None:
    """Number 10: 4 1/8 x 9 1/2 in; A7: 5 1/4 x 7 1/4 in (common practice, no source)."""
    assert named_envelope("No. 10") == named_envelope("#10") == named_envelope("10")
    assert (named_envelope("#10").width_mm, named_envelope("#10").height_mm) == pytest.approx(
        (4.125 * 25.4, 9.5 * 25.4)
    )
    assert (named_envelope("us-a7").width_mm, named_envelope("US A7").height_mm) == pytest.approx((133.35, 184.15))
    assert named_envelope("A7").kind == "sheet"


def test_all_names_are_found_again() -> None:
    assert len(set(envelope_names())) == len(envelope_names()) > 30
    assert all(named_envelope(name).name == name for name in envelope_names())


def test_an_unknown_name_gets_the_nearest() -> None:
    with pytest.raises(InputError, match=r"no envelope or sheet of that name; the nearest is C[3-7]\."):
        named_envelope("C9")
    with pytest.raises(InputError, match="there are C3, "):
        named_envelope("zzz")


def test_words() -> None:
    assert named_envelope("C6").words == "a C6 envelope"
    assert named_envelope("DL").words == "a DL envelope"
    assert named_envelope("A5").words == "an A5 sheet"
    assert named_envelope("Letter").words == "a Letter sheet"
    assert Envelope.from_size(114, 162, is_circle=False).words == "a box of 114 x 162 mm"
    assert Envelope.from_size(76.2, 76.2, is_circle=True).words == "a circle of 76.2 mm"


@pytest.mark.parametrize("size", [0.5, 6.0])
def test_what_has_no_room_is_refused(size: float) -> None:
    with pytest.raises(InputError, match=f"{size:g} mm leave no room with 3 mm each side. Write more than 6 mm"):
        Envelope.from_size(100, size, is_circle=False)
