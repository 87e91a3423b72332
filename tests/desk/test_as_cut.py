"""The card as cut, as the page is told it: the command's own picture, with the list of its bits."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from frameforge.desk.as_cut import as_cut
from frameforge.desk.made_pieces import made_pieces
from frameforge.geometry.measure import area_mm2
from frameforge.job.motif_source import MotifSource
from frameforge.picture.as_cut import as_cut_picture, bits_of

from .conftest import RECIPE

Ask = Callable[..., dict[str, Any]]

SOURCE = MotifSource(Path("out"))
TWO_SIZES = f'{RECIPE}\n[[piece.hole]]\nsize = "3mm"\nat = "top"\n'


def test_it_shows_what_the_command_draws() -> None:
    (piece,) = as_cut({"recipe": TWO_SIZES, "width": 620}, SOURCE)["pieces"]
    made = made_pieces(TWO_SIZES, SOURCE)[1][0]
    svg = as_cut_picture(made.name, (made.piece.region,), made.card)
    assert piece["words"] in svg
    assert len(re.findall(r'fill="url\(#waste\)" stroke', svg)) == len(piece["bits"]) == 18
    assert f'fill="{piece["card"]["colour"]}"' in svg
    # The same numbers stand in the same bits, at another scale.
    theirs = [(float(x), float(y)) for x, y in re.findall(r'paint-order="stroke" x="([\d.]+)" y="([\d.]+)"', svg)]
    scale = 844 / made.box.width_mm if made.box.width_mm >= made.box.height_mm else 844 / made.box.height_mm
    biggest, mine = theirs[-1], piece["bits"][-1]["number"]
    for number in (0, 1, 17):
        across = (theirs[number][0] - biggest[0]) / min(scale, 9.0)
        assert (piece["bits"][number]["number"]["x"] - mine["x"]) / (piece["bar"] / 50) == pytest.approx(across, abs=4)


def test_every_bit_is_listed_once_from_the_smallest() -> None:
    (piece,) = as_cut({"recipe": TWO_SIZES, "width": 620}, SOURCE)["pieces"]
    bits = bits_of((made_pieces(TWO_SIZES, SOURCE)[1][0].piece.region,))
    areas = [round(area_mm2(bit), 6) for bit in bits]
    assert areas == sorted(areas)
    assert [(line["first"], line["last"]) for line in piece["list"]] == [(1, 1), (2, 17), (18, 18)]
    assert [line["label"] for line in piece["list"]] == ["1", "2 to 17", "18"]
    assert piece["list"][0]["what"].startswith("7.1 mm2: ")  # pi 1.5^2
    assert piece["list"][1]["what"].startswith("10.2 mm2 each: bean leaf 1, at 12 o'clock, and 15 more")
    assert piece["list"][2]["what"] == "1963.5 mm2: in the middle"  # pi 25^2


def test_a_bit_is_gone_to_where_it_lies() -> None:
    (piece,) = as_cut({"recipe": TWO_SIZES, "width": 620}, SOURCE)["pieces"]
    for bit in piece["bits"]:
        place = bit["place"]
        left, top, wide, high = place["view"]
        assert (left + wide / 2, top + high / 2) == (
            pytest.approx(place["x"], abs=0.02),
            pytest.approx(place["y"], abs=0.02),
        )
        assert wide * place["times"] == pytest.approx(piece["width"], rel=0.01)
        assert wide / high == pytest.approx(piece["width"] / piece["height"], rel=0.01)
    assert piece["bits"][0]["place"]["times"] > piece["bits"][-1]["place"]["times"] == 2.5


def test_a_piece_without_holes_has_nothing_to_pick_out(ask: Ask) -> None:
    (piece,) = ask("as-cut", recipe='[[piece]]\nsize = "40mm"\n', width=400)["pieces"]
    assert (piece["words"], piece["bits"], piece["list"]) == ("Nothing to pick out.", [], [])


def test_cards_that_are_parted_show_the_lines_between_them() -> None:
    """Rings of 60, 80 and 100 mm: three cards, and nothing to pick out."""
    question = {"recipe": '[[rings]]\nsizes = "60-100 by 20"\n', "width": 400}
    (piece,) = as_cut(question, SOURCE)["pieces"]
    made = made_pieces(str(question["recipe"]), SOURCE)[1][0]
    assert piece["card"]["path"].count("Z") == 5
    assert piece["bits"] == []
    svg = as_cut_picture(made.name, (made.piece.region,), made.card, made.regions)
    assert svg.count("Z") == as_cut_picture(made.name, (made.piece.region,), made.card).count("Z") + 4
