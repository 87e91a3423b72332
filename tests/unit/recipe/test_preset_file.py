"""Presets of the maker's own: like another one, whole by themselves, looked for in order, none passed over silently."""

from __future__ import annotations

import pytest

from frameforge.card.preset import FIELD_OF, load_preset
from frameforge.errors import InputError
from frameforge.recipe.preset_file import preset_from, read_shelf

MINE = """
[my-laser]
like = "card-240-laser"
kerf = 0.18
speed = "12 mm/s"
tip = "25deg"
crumb = "5 mm2"
lift_time = 0.7
passes = 2
near_miss = "0.2mm"

[slow]
like = "my-laser"
speed = 6

[card-240-knife]
like = "card-240-knife"
least_web = "1/16 in"
"""


def test_a_preset_takes_what_it_does_not_say_from_the_one_it_is_like() -> None:
    shelf = read_shelf(MINE, "presets.toml")
    mine, others = preset_from([shelf], "my-laser")
    laser = load_preset("card-240-laser")
    assert others == ()
    assert (mine.name, mine.origin) == ("my-laser", "presets.toml")
    assert (mine.kerf_mm, mine.speed_mm_s, mine.tip_deg, mine.crumb_mm2) == (0.18, 12.0, 25.0, 5.0)
    assert (mine.lift_s, mine.passes, mine.near_miss_mm) == (0.7, 2, 0.2)
    assert (mine.least_web_mm, mine.thickness_mm) == (laser.least_web_mm, laser.thickness_mm)
    slow, _ = preset_from([shelf], "slow")
    assert (slow.speed_mm_s, slow.kerf_mm) == (6.0, 0.18)


def test_a_name_of_ours_may_be_taken_and_is_told() -> None:
    knife, others = preset_from([read_shelf(MINE, "presets.toml")], "card-240-knife")
    assert knife.least_web_mm == pytest.approx(25.4 / 16)
    assert knife.least_neck_mm == load_preset("card-240-knife").least_neck_mm
    assert others == ("",)


def test_shelves_are_looked_through_in_order() -> None:
    beside = read_shelf('[my-laser]\nlike = "my-laser"\nkerf = 0.3', "beside.toml")
    mine, others = preset_from([beside, read_shelf(MINE, "home.toml")], "my-laser")
    assert (mine.kerf_mm, mine.speed_mm_s, mine.origin) == (0.3, 12.0, "beside.toml")
    assert others == ("home.toml",)


def test_a_whole_preset_needs_no_other() -> None:
    table = load_preset("card-200-laser").as_table()
    text = "[own]\n" + "\n".join(f'{key} = "{v}"' if isinstance(v, str) else f"{key} = {v}" for key, v in table.items())
    own, _ = preset_from([read_shelf(text, "p.toml")], "own")
    assert {key: getattr(own, field) for key, field in FIELD_OF.items()} == {
        key: getattr(load_preset("card-200-laser"), field) for key, field in FIELD_OF.items()
    }


@pytest.mark.parametrize(
    ("text", "name", "line"),
    [
        ("", "zzz", 'preset: there is no preset "zzz". There are: thin-paper-knife'),
        (MINE, "my-lasr", "The nearest is my-laser."),
        ('[a]\nlike = "b"\n[b]\nlike = "a"', "a", "like itself in the end"),
        ('[a]\nlike = "card-240-lasr"', "a", 'p.toml, a, like: there is no preset "card-240-lasr". The nearest is'),
        ("[a]\nkerf = 0.1", "a", "p.toml, a: no thickness, least_web"),
    ],
)
def test_what_cannot_be_settled_is_told(text: str, name: str, line: str) -> None:
    with pytest.raises(InputError) as caught:
        preset_from([read_shelf(text, "p.toml")], name)
    assert line in str(caught.value)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("[a]\nspeed = 0", "p.toml line 2, speed 0: at that speed nothing is cut. Write millimetres a second"),
        ("[a]\nspeed = -3", "p.toml line 2, speed -3: not a number of 0 or more."),
        ("[a]\npasses = 1.5", "p.toml line 2, passes 1.5: not a whole number in that range."),
        ("[a]\ntip = 120", "p.toml line 2, tip 120: a tip is between 0 and 90 degrees."),
        ('[a]\nlift_time = "soon"', 'p.toml line 2, lift_time "soon": not a number of 0 or more.'),
        ("[a]\nleast_web = nan", "p.toml line 2, least_web nan: "),
        ('[a]\nwidth = "2mm"', 'p.toml line 2: "width" is not known here.'),
        ("kerf = 0.2", "p.toml line 1, kerf 0.2: it stands below no name. Write it below a line such as [my-laser]."),
    ],
)
def test_faults_in_the_file_name_their_line(text: str, line: str) -> None:
    with pytest.raises(InputError) as caught:
        read_shelf(text, "p.toml")
    assert str(caught.value).startswith(line)
