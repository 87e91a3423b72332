"""Recipes as makers write them, sound and faulty."""

from __future__ import annotations

from dataclasses import FrozenInstanceError

import pytest

from frameforge.errors import InputError
from frameforge.frame.spec import Size
from frameforge.recipe.recipe import Recipe, read_recipe
from frameforge.recipe.row_fields import Entry

PIECE = '[[piece]]\nname = "badge"\nsize = 60\n'
ROW = '[[piece.row]]\nmotif = "arch"\n'


def lines_of(text: str, name: str = "badge.toml") -> list[str]:
    """Return the lines with which a recipe is refused."""
    with pytest.raises(InputError) as caught:
        read_recipe(text, name)
    assert caught.value.exit_code == 2
    return list(caught.value.lines)


def test_a_whole_recipe_comes_to_values() -> None:
    recipe = read_recipe(
        """
        units = "mm"
        [card.sand]
        preset = "card-240-knife"
        least_neck = 1.2
        [files]
        formats = ["dxf", "svg"]
        dxf_unit = "in"
        [[piece]]
        name = "invitation"
        card = "sand"
        copies = 20
        size = "3 in"
        opening = [50, 40]
        [[piece.row]]
        motif = "bean-leaf"
        count = 16
        scale = 0.7
        start = "half"
        mirror = "every-other"
        skip = [1, "left"]
        place = "in"
        on = "opening"
        inset = "2mm"
        [[piece.hole]]
        size = 4
        at = "bottom"
        """,
        "invitation.toml",
    )
    (piece,) = recipe.pieces
    assert piece.size == Size(3 * 25.4, 3 * 25.4)
    assert piece.opening == Size(50, 40)
    assert (piece.name, piece.card, piece.copies) == ("invitation", "sand", 20)
    (row,) = piece.row
    assert row.motif == (Entry("bean-leaf"),)
    assert (row.count, row.scale, row.mirror) == (16, 0.7, "every-other")
    assert (row.start, row.skip, row.place, row.on, row.inset) == ((0.0, True), (1, "left"), "in", "opening", 2)
    assert [(hole.size, hole.at) for hole in piece.hole] == [(4, 180)]
    assert recipe.tables.card["sand"].least_neck == 1.2
    assert recipe.tables.files.formats == ("svg", "dxf")
    assert recipe.tables.files.dxf_unit == "in"


def test_bare_numbers_are_in_the_unit_of_the_recipe() -> None:
    recipe = read_recipe('units = "in"\n[[piece]]\nsize = 4\nopening = "50mm"\n', "a.toml")
    size = recipe.pieces[0].size
    assert isinstance(size, Size)
    assert size.width_mm == pytest.approx(101.6)
    assert recipe.pieces[0].opening == Size(50, 50)


def test_a_recipe_is_a_value() -> None:
    recipe = read_recipe(PIECE + ROW, "badge.toml")
    assert isinstance(recipe, Recipe)
    with pytest.raises(FrozenInstanceError):
        recipe.pieces[0].copies = 2  # type: ignore[misc]  # what is tested


def test_a_key_of_the_piece_below_its_row_is_told_where_to_go() -> None:
    text = (
        '# badge\n[card.moss]\n\n[[piece]]\nname = "badge"\nsize = 60\n\n\n\n\n\n'
        '[[piece.row]]\nmotif = "arch"\ncopies = 24\n'
    )
    assert lines_of(text) == [
        'badge.toml line 14, row 1: "copies" belongs to the piece, not to its row. Move it above [[piece.row]].'
    ]


def test_all_faults_are_told_at_once_in_the_order_of_their_lines() -> None:
    text = 'units = "feet"\n' + PIECE + "hole = 50\n" + ROW + 'cuont = 3\ncount = 2.5\ngap = "1 ell"\n[colours]\n'
    assert lines_of(text) == [
        'badge.toml line 1, units "feet": no such unit. Write "mm", "cm" or "in".',
        "badge.toml line 5, hole 50: holes are tables written [[piece.hole]]. For the middle write opening.",
        'badge.toml line 8, row 1: "cuont" is not known here; the nearest is count.',
        'badge.toml line 9, row 1, count 2.5: not a whole number. Write a whole number from 1 to 2000, "most"'
        ' or "find".',
        'badge.toml line 10, row 1, gap "1 ell": no such unit. Write mm, cm or in, for example 100mm, 4in, "3 1/4 in".',
        'badge.toml line 11: "colours" is not known here. It is called card.',
    ]


@pytest.mark.parametrize(
    ("text", "say"),
    [
        ("", 'badge.toml: no piece in it. Write [[piece]] and below it size = "100mm".'),
        ("[[piece]]\n", 'line 1: no "size". Write 100mm for a circle, 150x100mm for an oval, or "find".'),
        (PIECE + "[[piece.row]]\n", 'line 4, row 1: no "motif". Write a motif by name ("arch"), an SVG file'),
        ("size = 100\n[[piece]]\nsize = 3\n", 'line 1: "size" belongs to a piece. Move it below [[piece]].'),
        (PIECE + "count = 3\n", 'line 4: "count" belongs to a row. Move it below [[piece.row]].'),
        (PIECE + 'colour = "moss"\n', '"colour" is not known here. It is called card.'),
        (PIECE + "diameter = 3\n", '"diameter" is not known here. It is called size.'),
        (PIECE + "offset = 3\n", '"offset" is not known here. It is called rim.'),
        (PIECE + ROW + "number = 3\n", '"number" is not known here. It is called count.'),
        (PIECE + ROW + "spacing = 3\n", '"spacing" is not known here. It is called gap.'),
        (PIECE + ROW + "at = 3\n", '"at" belongs to a hole. Move it below [[piece.hole]].'),
        (PIECE + ROW + "zzz = 3\n", '"zzz" is not known here. Known are: motif, count, gap,'),
        (PIECE + "[[piece.row]]\nmotif = []\n", "motif []: an empty list. Write a motif by name"),
        (PIECE + "[[piece.row]]\nmotif = [3]\n", "motif [3]: not a name. Write a motif by name"),
        (PIECE + "[[piece.row]]\nmotif = [{ scale = 3 }]\n", "an entry without its motif. Write { motif ="),
        (
            PIECE + '[[piece.row]]\nmotif = [{ motif = "a", size = 3 }]\n',
            '"size" is not known in an entry. Write motif, scale',
        ),
        (PIECE + '[[piece.row]]\nmotif = [{ motif = "a", mirror = 3 }]\n', "in an entry mirror is true or false."),
        (
            PIECE + '[[piece.row]]\nmotif = [{ motif = "a", scale = "find" }]\n',
            "the scale of one entry cannot be found.",
        ),
        (PIECE + ROW + 'keep_free = "400deg"\n', "a zone is wider than 0 and narrower than 360 degrees."),
        (PIECE + ROW + "gap = 2\nfoot_gap = 2\n", "the gap and the foot gap both say how far apart the repeats stand."),
        (PIECE + "ratio = 0\n", "ratio 0: not a number in that range. Write width over height"),
        ("[piece]\nsize = 100\n", "Write tables written [[piece]]."),
        (PIECE + "[piece.row]\nmotif = 'arch'\n", "Write tables written [[piece.row]]."),
        (
            PIECE + "rim = 3\nopening = 50\n",
            "line 4: the opening and the rim both say how large the hole in the middle is.",
        ),
        (PIECE + ROW + "foot = 3\nscale = 2\n", "the foot and the scale both say how large the motif is."),
        (PIECE + "rim = -3\n", "rim -3: a length must be above 0."),
        (PIECE + "rim = nan\n", "rim nan: not a number that can be measured"),
        (PIECE + "rim = inf\n", "rim inf: not a number that can be measured"),
        (PIECE + "rim = 1e400\n", "rim inf: not a number that can be measured"),
        (PIECE + "rim = true\n", "rim true: not a length"),
        ("[[piece]]\nsize = 0\n", "a size must be above 0"),
        ("[[piece]]\nsize = 4000\n", "4000 mm is more than the 3000 mm that can be made."),
        (PIECE + "copies = 0\n", "copies 0: it goes from 1 to 9999. Write a whole number from 1 to 9999."),
        (PIECE + 'copies = "two"\n', 'copies "two": not a whole number.'),
        (PIECE + ROW + "count = 0\n", "count 0: a row takes 1 to 2000 repeats."),
        (PIECE + ROW + "count = 1000000\n", "count 1000000: a row takes 1 to 2000 repeats."),
        (PIECE + ROW + "scale = 0\n", "scale 0: 0 is not above 0 and up to 100. Write a number such as 0.7"),
        (PIECE + ROW + 'scale = "big"\n', 'scale "big": not a number.'),
        (PIECE + ROW + 'on = "edge"\n', 'on "edge": no such choice. Write "base" or "opening".'),
        (PIECE + ROW + 'on = "opening"\n', "there is no opening to stand on. Write opening or rim above"),
        (PIECE + ROW + 'start = "noon"\n', 'start "noon": no number. Write degrees'),
        (PIECE + ROW + "skip = [0]\n", "it goes from 1 to 9999. Write positions from 1 at the top"),
        (PIECE + ROW + 'skip = "up"\n', "not a position. Write positions from 1 at the top"),
        (
            PIECE + 'base = "oval"\n',
            "an oval has two sizes that differ, such as 150x100mm. Leave out base, the size tells.",
        ),
        ('[[piece]]\nsize = "150x100"\nbase = "circle"\n', "a circle has one size. Leave out base, the size tells."),
        (PIECE + PIECE, 'badge, name "badge": a piece before it is called so. Take another name.'),
        ('[card.moss]\n[[piece]]\nsize=50\ncard="mos"\n', 'card "mos": there is no [card.mos]; the nearest is moss.'),
        ('[[piece]]\nsize=50\nname="a/b"\n', 'name "a/b": / cannot stand in a file name. Write a name that can stand'),
        ('[[piece]]\nsize=50\nname="CON"\n', 'name "CON": a file cannot be called so.'),
        ('[[piece]]\nsize=50\nname=""\n', "not a name."),
        (f'[[piece]]\nsize=50\nname="{"é" * 80}"\n', "longer than a file name may be."),
        (
            '[files]\nformats = ["svg", "pdf"]\n' + PIECE,
            'formats ["svg", "pdf"]: no such kind of file. Write "svg", "dxf", "png"',
        ),
        ('[files]\none_path = "yes"\n' + PIECE, 'one_path "yes": neither true nor false. Write true or false.'),
        ('[files]\ndxf = "r14"\n' + PIECE, 'dxf "r14": no such choice. Write "bulges", "r12", "splines" or "lines".'),
    ],
)
def test_a_fault_is_told_with_what_is_allowed(text: str, say: str) -> None:
    assert any(say in line for line in lines_of(text)), lines_of(text)


def test_a_row_that_says_all_it_can() -> None:
    text = PIECE.replace("60", '"find"') + (
        'grow_from = "150x100"\n[[piece.row]]\nmotif = ["arch", { motif = "bean-leaf", scale = 0.5, lean = "-10deg",'
        ' mirror = true }]\ncount = "find"\nfoot_gap = 0\nscale = "find"\nlean = 5\nplace = "window"\n'
        'keep_free = "60deg at left"\nspread = "equal-chord"\n[[piece.row]]\n'
        'motif = "arch"\ngap = "find"\nfoot = "find"\n'
    )
    (piece,) = read_recipe(text, "badge.toml").pieces
    first, second = piece.row
    assert (piece.size, piece.grow_from) == ("find", Size(150, 100))
    assert first.motif == (Entry("arch"), Entry("bean-leaf", 0.5, -10.0, True))
    assert (first.count, first.foot_gap, first.scale, first.lean, first.place) == ("find", 0, "find", 5, "window")
    assert (first.keep_free, first.free, first.spread) == ((60, 270), "spread", "equal-chord")
    assert (second.gap, second.foot) == ("find", "find")


@pytest.mark.parametrize(
    ("text", "say"),
    [
        ("[[piece]]\nsize = 100mm\n", 'badge.toml line 2: 100mm needs quotes. Write "100mm".'),
        ('[[piece]]\nsize = 3 1/4"\n', "badge.toml line 2: 3 1/4\" needs quotes. Write '3 1/4\"'."),
        (PIECE + "[[piece.row]]\nmotif = arch # round\n", 'line 5: arch needs quotes. Write "arch".'),
        (PIECE + "rim = 0.\x05\n", "line 4: this line cannot be read. Look at its quotes, brackets and = sign."),
        (PIECE + "rim = .5\n", "line 4: .5 has no digit before its point. Write 0.5."),
        (PIECE + "size = 3\n", "line 4: this stands here a second time. Leave out one of the two."),
        ('[[piece]]\nname = "badge\n', "line 2: a text is not closed"),
        ("[[piece]\n", "line 1: this line cannot be read. Look at its quotes, brackets and = sign."),
        ("[[piece]]\nsize\n", "line 2: a key without a value. Write it as key = value."),
        ("[[piece]]\nskip = [1, 2\n", "badge.toml: a bracket is not closed"),
        ("a = " + "[" * 5000, "badge.toml"),
    ],
)
def test_a_text_that_is_not_toml_is_told_with_its_line(text: str, say: str) -> None:
    (line,) = lines_of(text)
    assert say in line


def test_no_fault_speaks_like_a_machine() -> None:
    """The words of a message are the maker's (house words)."""
    texts = [
        PIECE + "rim = []\n",
        "card = 3\n",
        "[[piece]]\nrow = 3\nsize = {}\n",
        "[motif]\na = 3\n",
        "[card]\na = 3\n",
    ]
    texts += [
        "[motif.a]\nfoot = 'x'\n" + PIECE,
        "[motif.a]\nfoot = 3\njoin = 3\n" + PIECE,
        "piece = 3\n",
        "[files]\ndxf=3",
    ]
    for text in texts:
        for line in lines_of(text):
            assert not any(
                word in line.lower() for word in ("please", "error", "invalid", "failed", "!", "input", "dict")
            )


def test_pieces_are_named_where_there_are_several() -> None:
    text = PIECE + '[[piece]]\nname = "seal"\nsize = 50\n' + ROW + "counted = 3\n[[piece]]\nsize = 0\n"
    assert lines_of(text) == [
        'badge.toml line 9, seal, row 1: "counted" is not known here; the nearest is count.',
        "badge.toml line 11, piece 3, size 0: a size must be above 0. Write 100mm for a circle, 150x100mm for an oval.",
    ]
