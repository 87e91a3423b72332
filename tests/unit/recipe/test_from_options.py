"""Options alone, and options laid over a recipe of one piece."""

from __future__ import annotations

from typing import Any

import pytest

from frameforge.errors import InputError
from frameforge.frame.spec import Size
from frameforge.recipe.from_options import with_options
from frameforge.recipe.lines import line_numbers
from frameforge.recipe.recipe import Recipe, check_recipe, parse_toml
from frameforge.recipe.row_fields import Entry
from frameforge.recipe.source import Source

BADGE = '[[piece]]\nname = "badge"\nsize = 60\nrim = 9\n[[piece.row]]\nmotif = "arch"\ncount = 3\nfoot = 4\n'


def made(text: str, **options: Any) -> Recipe:
    """Return the recipe of a text (may be empty) with options laid over it."""
    source = Source("badge.toml", line_numbers(text)) if text else Source("")
    return check_recipe(*with_options(parse_toml(text, "badge.toml"), source, options))


def refused(text: str, **options: Any) -> tuple[str, ...]:
    """Return the lines with which options are refused."""
    with pytest.raises(InputError) as caught:
        made(text, **options)
    return caught.value.lines


def test_options_alone_make_a_piece() -> None:
    recipe = made(
        "", size="150x100mm", opening="110x60mm", motif=("cabbage-edge",), count="16", scale="0,5", copies="2",
        hole=("4mm top", "3 mm at 30 deg", "2mm"), skip=("top", "3,4"), start="half", card="moss",
        formats="svg, png", one_path=True, dxf=None, mirror=None,
    )  # fmt: skip
    (piece,) = recipe.pieces
    assert (piece.size, piece.opening, piece.copies, piece.card) == (Size(150, 100), Size(110, 60), 2, "moss")
    assert [(hole.size, hole.at) for hole in piece.hole] == [(4, 0), (3, 30), (2, 0)]
    (row,) = piece.row
    assert row.motif == (Entry("cabbage-edge"),)
    assert (row.count, row.scale, row.start) == (16, 0.5, (0, True))
    assert row.skip == ("top", 3, 4)
    assert recipe.tables.files.formats == ("svg", "png")
    assert recipe.tables.files.one_path


def test_options_override_a_recipe_of_one_piece() -> None:
    recipe = made(BADGE, size="70mm", opening="40mm", count="most", scale="2", dxf="r12")
    (piece,) = recipe.pieces
    assert (piece.name, piece.size, piece.opening, piece.rim) == ("badge", Size(70, 70), Size(40, 40), None)
    assert piece.row[0].motif == (Entry("arch"),)
    assert (piece.row[0].count, piece.row[0].scale, piece.row[0].foot) == ("most", 2, None)
    assert recipe.tables.files.dxf == "r12"


def test_options_about_files_go_with_any_recipe() -> None:
    recipe = made(BADGE + '[[piece]]\nname = "seal"\nsize = 50\n', formats="svg", units="mm")
    assert [piece.name for piece in recipe.pieces] == ["badge", "seal"]
    assert recipe.tables.files.formats == ("svg",)


def test_the_unit_that_is_typed_holds_for_bare_numbers() -> None:
    size = made("", size="4", units="in").pieces[0].size
    assert isinstance(size, Size)
    assert size.width_mm == pytest.approx(101.6)


@pytest.mark.parametrize(
    ("options", "line"),
    [
        (
            {"size": "100 milimeters"},
            'make, --size "100 milimeters": no such unit. Write mm, cm or in, for example 100mm, 4in, "3 1/4 in".',
        ),
        ({"motif": ("arch",)}, "make: no size. Add --size 100mm for a circle, --size 150x100mm for an oval."),
        ({"size": "9", "count": "12"}, "make, --count: no motif to repeat. Add --motif, for example --motif arch."),
        (
            {"size": "9", "motif": ("arch",), "count": "many"},
            'make, --count "many": not a whole number. Write a whole number from 1 to 2000, "most" or "find".',
        ),
        (
            {"size": "9", "hole": ("4ell top",)},
            'make, --hole "4ell": no such unit. Write mm, cm or in, for example 100mm, 4in, "3 1/4 in".',
        ),
        (
            {"size": "9", "formats": "pdf"},
            'make, --formats "pdf": no such kind of file. Write "svg", "dxf", "png" or several of them.',
        ),
        (
            {"size": "9", "dxf_unit": "ell"},
            'make, --dxf-unit "ell": no such choice. Write "mm" or "in".',
        ),
        (
            {"size": "9", "units": "ell"},
            'make, --units "ell": no such unit. Write "mm", "cm" or "in".',
        ),
        (
            {"size": "9", "rim": "2", "opening": "3"},
            "make, --rim: the opening and the rim both say how large the hole in the middle is. Leave out one of them.",
        ),
    ],
)  # fmt: skip
def test_an_option_that_cannot_be_taken_is_told_by_its_name(options: dict[str, Any], line: str) -> None:
    assert refused("", **options) == (line,)


def test_several_faults_are_told_at_once() -> None:
    lines = refused("", size="big", rim="-1", motif=("arch",), count="0")
    starts = {line.partition(":")[0] for line in lines}
    assert starts == {'make, --size "big"', 'make, --rim "-1"', "make, --count 0"}


def test_options_for_one_of_several_pieces_are_refused_with_their_names() -> None:
    text = BADGE + '[[piece]]\nname = "seal"\nsize = 50\n'
    assert refused(text, size="9") == (
        "make, --size: badge.toml has 2 pieces: badge, seal. An option changes a recipe of one piece; write it there.",
    )


def test_options_for_one_of_several_rows_are_refused() -> None:
    text = BADGE + '[[piece.row]]\nmotif = "scallop"\n'
    assert refused(text, count="9") == (
        "make, --count: badge.toml has 2 rows, and an option does not say which. Write it in the recipe.",
    )


def test_a_fault_of_the_recipe_below_options_keeps_its_line() -> None:
    text = BADGE.replace('"arch"', "3")
    assert refused(text, size="70mm")[0].startswith("badge.toml line 6, row 1, motif 3: not a name.")


def test_the_edge_between_and_the_rest_of_a_free_zone_are_options() -> None:
    (piece,) = made(BADGE, between="hollow", depth="2mm", keep_free="60deg at top", free="leave").pieces
    (row,) = piece.row
    assert (row.between, row.depth, row.keep_free, row.free) == ("hollow", 2, (60, 0), "leave")
