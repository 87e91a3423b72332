"""What is said of cards that belong together: tables that line up, in words for the terminal and for the report."""

from __future__ import annotations

import pytest
from fixtures.plain_motifs import scallop
from fixtures.rows import KNIFE
from fixtures.sets import edge_row, piece_of, rings_of

from frameforge.job.layer_words import StackCard, stack_told
from frameforge.job.ring_words import burnt_thin, rings_told
from frameforge.job.set_told import SetTold
from frameforge.sets.layers import LayerSpec, layers_of
from frameforge.sets.matching import MatchHole


def stack(*cards: str | None) -> list[StackCard]:
    """Cards of a stack of circles, the topmost 60 across, each 2 mm wider all round than the one above."""
    layers = layers_of(piece_of(60), [LayerSpec("card", 2) for _ in cards[1:]], KNIFE, has_opening=False)
    return [StackCard(f"mat-{k}", card, 0.3, layer) for k, (card, layer) in enumerate(zip(cards, layers, strict=True))]


def test_columns_line_up_and_the_short_table_goes_to_the_terminal() -> None:
    told = SetTold("rings", "Rings", "Lead:", (("a", "b"), ("long", "c")), ("Note.",), [])
    assert told.lines() == ["Lead:", "  a     b", "  long  c", "Note."]
    short = SetTold("rings", "Rings", "Lead:", (("a", "b"),), (), [], (("x",),))
    assert short.lines() == ["Lead:", "  x"]
    assert short.table().rows == (("a", "b"),)


def test_a_stack_is_put_together_from_the_lowest_up() -> None:
    told = stack_told(stack("moss", "cream", "brick"))
    assert told.lead == "Stack of 3 cards, 0.9 mm thick, from the top down:"
    assert told.notes == (
        "To put it together: lay brick down, glue cream on it with 2 mm of brick showing all round, glue moss on it "
        "with 2 mm of cream showing all round.",
    )


def test_cards_of_one_colour_go_by_their_names() -> None:
    (note,) = stack_told(stack("moss", "moss", None)).notes
    assert "lay mat-2 down, glue mat-1 on it" in note
    assert "glue mat-0 on it with 2 mm of mat-1" in note


def test_matching_holes_are_told() -> None:
    told = stack_told(stack("moss", "cream", "brick"), [MatchHole(5j, 3), MatchHole(5 + 0j, 4.5)])
    assert told.notes[1].startswith("Matching holes of 3 and 4.5 mm in the 2 cards below the top one")


@pytest.mark.parametrize(("kerf", "widths"), [(0.0, [60, 10, 10]), (0.2, [59.8, 9.8, 9.9])])
def test_what_the_beam_takes_of_each_ring(kerf: float, widths: list[float]) -> None:
    """Half a kerf for each side that another card shares; the outermost line has waste beside it."""
    told = rings_told(rings_of(60, 80, 100), kerf)
    assert [value["cut_width_mm"] for value in told.values] == pytest.approx(widths)
    assert ("width as cut" in told.rows[0]) == (kerf > 0)
    assert told.lead == "2 rings and a disc, every edge between two of them cut once (439.8 mm of cutting saved):"


def test_rings_too_thin_once_they_are_cut() -> None:
    rings = rings_of(60, 63.2, 80, rows=(edge_row(2, scallop(), count=4),))
    (found,) = burnt_thin(rings, 0.2, KNIFE)
    assert (found.code, found.where, found.measured) == ("thin-web", "ring of 63.2 mm", pytest.approx(1.4))
    assert burnt_thin(rings, 0.0, KNIFE) == []
