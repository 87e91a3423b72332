"""What a recipe says of the rest that a gap leaves, and what a file keeps of it."""

from __future__ import annotations

import tomllib

import pytest
from fixtures.plain_motifs import husk, scallop

from frameforge.errors import InputError
from frameforge.motif.motif import Motif
from frameforge.recipe.from_options import with_options
from frameforge.recipe.keep import kept_text
from frameforge.recipe.recipe import Recipe, check_recipe, read_recipe
from frameforge.recipe.source import Source
from frameforge.recipe.to_spec import to_spec

PIECE = '[[piece]]\nname = "badge"\nsize = 60\n[[piece.row]]\nmotif = "husk"\ngap = 2\n'
OWN = {"husk": husk(), "own/scallop.svg": scallop(), "scallop": scallop()}


def spec_of(recipe: Recipe) -> tuple[object, ...]:
    """Return rest, seam and the name of the filler of the only row."""
    (row,) = to_spec(recipe, 0, "badge", lambda name, row, where: OWN[name]).rows
    return row.rest, row.seam_deg, row.filler.name if row.filler else None


@pytest.mark.parametrize(
    ("lines", "wanted"),
    [
        ("", (None, None, None)),
        ('rest = "spread"', ("spread", None, None)),
        ('rest = "size"\nseam = "left"', ("size", 270.0, None)),
        ('rest = "filler"\nseam = "30deg"', ("filler", 30.0, None)),
        ('filler = "own/scallop.svg"', ("filler", None, "scallop")),
        ('rest = "filler"\nfiller = "scallop"\nseam = 200', ("filler", 200.0, "scallop")),
    ],
)
def test_rests_come_to_values(lines: str, wanted: tuple[object, ...]) -> None:
    assert spec_of(read_recipe(PIECE + lines, "badge.toml")) == wanted


@pytest.mark.parametrize(
    ("lines", "line"),
    [
        (
            'rest = "size"\nfiller = "scallop"',
            'badge.toml line 8, row 1, filler "scallop": a filler goes with rest "filler", not with "size". '
            "Leave out one of them.",
        ),
        (
            'rest = "close"',
            'badge.toml line 7, row 1, rest "close": no such choice. Write "spread" (all gaps alike), "size" (another '
            'size closes) or "filler" (a smaller motif at the seam).',
        ),
        (
            'rest = "filler"\nseam = "under"',
            'badge.toml line 8, row 1, seam "under": not a direction. Write top, right, bottom, left, or degrees '
            "clockwise from the top, for example 30deg.",
        ),
    ],
)
def test_faults_are_told_with_their_line(lines: str, line: str) -> None:
    with pytest.raises(InputError) as caught:
        read_recipe(PIECE + lines, "badge.toml")
    assert caught.value.lines == (line,)


def test_options_take_each_others_place() -> None:
    raw = tomllib.loads(f'{PIECE}rest = "size"')
    laid = check_recipe(*with_options(raw, Source("badge.toml"), {"filler": "scallop"}))
    assert spec_of(laid) == ("filler", None, "scallop")
    raw = tomllib.loads(f'{PIECE}filler = "scallop"\nseam = "left"')
    laid = check_recipe(*with_options(raw, Source("badge.toml"), {"rest": "spread"}))
    assert spec_of(laid) == ("spread", 270.0, None)


def _kept_row(lines: str, fillers: dict[int, str]) -> tuple[dict[str, object], set[str]]:
    def own(place: int, name: str) -> Motif | None:
        return OWN[name] if "/" in name or name == "husk" else None

    table = tomllib.loads(kept_text(read_recipe(PIECE + lines, "badge.toml"), 0, "badge", own, fillers))
    return table["piece"][0]["row"][0], set(table["motif"])


def test_the_filler_that_was_chosen_is_kept_by_name() -> None:
    assert _kept_row('rest = "filler"', {0: "scallop"}) == (
        {"motif": "husk", "gap": 2, "rest": "filler", "filler": "scallop"}, {"husk"},
    )  # fmt: skip


def test_a_filler_of_the_makers_own_is_kept_as_curves() -> None:
    assert _kept_row('filler = "own/scallop.svg"', {0: "scallop"}) == (
        {"motif": "husk", "gap": 2, "filler": "scallop"}, {"husk", "scallop"},
    )  # fmt: skip
