"""A piece that goes into the opening of another: its size follows, in its values and in what is kept."""

from __future__ import annotations

import pytest

from frameforge.errors import InputError
from frameforge.frame.spec import Size
from frameforge.recipe.recipe import Recipe, read_recipe

FRAME = '[[piece]]\nname = "frame"\nsize = 100\nopening = 60\n'
MAT = '[[piece]]\nname = "mat"\nfrom_opening = "frame"\n'


def sizes(recipe: Recipe) -> list[object]:
    return [piece.size for piece in recipe.pieces]


def test_the_opening_less_twice_the_clearance() -> None:
    """60 - 2 x 0.3 = 59.4, wherever the frame stands."""
    for text in (FRAME + MAT + "clearance = 0.3", MAT + "clearance = 0.3\n" + FRAME):
        recipe = read_recipe(text, "a.toml")
        assert Size(59.4, 59.4) in sizes(recipe)
        kept = next(piece for piece in recipe.raw["piece"] if piece["name"] == "mat")
        assert kept == {"size": "59.4mm", "name": "mat"}


def test_openings_within_openings_and_rims() -> None:
    text = FRAME.replace("opening = 60", "rim = 20") + MAT + "clearance = 1\nrim = 9\n"
    inner = '[[piece]]\nfrom_opening = "mat"\n'
    assert sizes(read_recipe(text + inner, "a.toml"))[1:] == [Size(58, 58), Size(40, 40)]


def test_an_oval_opening_gives_an_oval() -> None:
    recipe = read_recipe(FRAME.replace("60", '"60x40"') + MAT + "clearance = 0.5", "a.toml")
    assert sizes(recipe)[1] == Size(59, 39)
    assert recipe.raw["piece"][1]["size"] == "59.0x39.0mm"


@pytest.mark.parametrize(
    ("text", "end"),
    [
        (FRAME + MAT + "size = 50", "tells how large it is. Leave size out."),
        (FRAME + MAT.replace('"frame"', '"fram"'), "no other piece of that name; the nearest is frame."),
        (FRAME + MAT.replace('"frame"', '"xyz"'), "; give the piece with the opening a name, and write that."),
        (FRAME.replace("opening = 60", "") + MAT, "frame does not tell how large its opening is. Write opening there."),
        (FRAME.replace("100\nopening = 60", '"100x80"\nrim = 10') + MAT, "Write opening there."),
        (FRAME + '[[piece.row]]\nmotif = "arch"\nplace = "in"\n' + MAT, "Write a size that goes between them."),
        (FRAME + MAT + '[[piece.row]]\nmotif = "arch"', 'Take place "window", or write a size.'),
        (FRAME + MAT + "clearance = 30", "Take a smaller clearance."),
        ('[[piece]]\nname = "a"\nfrom_opening = "b"\nrim = 5\n[[piece]]\nname = "b"\nfrom_opening = "a"\nrim = 5',
         "Write opening there."),
    ],
)  # fmt: skip
def test_what_goes_into_no_opening(text: str, end: str) -> None:
    with pytest.raises(InputError) as caught:
        read_recipe(text, "a.toml")
    assert all(line.endswith(end) for line in caught.value.lines)
    assert "from_opening" in caught.value.lines[0]
