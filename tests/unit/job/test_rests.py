"""Rests decided before a piece is made."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

import pytest
from fixtures.plain_motifs import arch, disc, drop, husk, leaf, plain_rectangle, scallop
from fixtures.rows import KNIFE, row_of

from frameforge.errors import GeometryError, InputError
from frameforge.frame.make import make_piece
from frameforge.frame.spec import PieceSpec, RowSpec, Size
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle
from frameforge.job.rests import settle_rests
from frameforge.motif.catalogue import load_motif
from frameforge.motif.motif import Motif

OVAL = Size(150, 100)


def order(*rows: RowSpec, size: Size = OVAL) -> PieceSpec:
    return PieceSpec("hoop", size, rows=rows)


def choice(*motifs: Motif) -> object:
    return lambda place: motifs


def never(place: int) -> Iterable[Motif]:
    raise AssertionError("no motif needs to be looked at")


def test_nothing_is_looked_at_without_a_rest() -> None:
    spec = order(row_of(leaf(), gap_mm=3.0), row_of(arch(), rest="spread"))
    assert settle_rests(spec, KNIFE, never) == (spec, ())


def test_the_nearest_in_height_is_taken_and_the_next_are_told() -> None:
    spec = order(row_of(leaf(), gap_mm=3.0, rest="filler"))
    settled, (note,) = settle_rests(spec, KNIFE, choice(scallop(), husk(), arch(), drop()))  # type: ignore[arg-type]
    assert settled.rows[0].filler == drop()
    assert note.say == (
        "took drop at scale 0.71 to fill the 12.18 mm at the seam; husk at scale 0.77 and arch at scale 0.55 would do "
        "too."
    )


def test_what_would_not_hold_is_passed_over() -> None:
    pierced = Motif("drop", drop().join, 8.0, window=(Region(circle(5j, 0.9)),))
    spec = order(row_of(leaf(), gap_mm=3.0, rest="filler"))
    settled, (note,) = settle_rests(spec, KNIFE, choice(pierced, husk()))  # type: ignore[arg-type]
    assert settled.rows[0].filler == husk()
    assert note.say == "took husk at scale 0.77 to fill the 12.18 mm at the seam."


def test_a_named_filler_is_left_to_the_maker() -> None:
    spec = order(row_of(leaf(), gap_mm=3.0, rest="filler", filler=disc()))
    assert settle_rests(spec, KNIFE, never) == (spec, ())


def test_a_row_that_closes_takes_none() -> None:
    size = Size(102.339179826692, 102.339179826692)
    spec = order(row_of(plain_rectangle(18), gap_mm=2.0, rest="filler"), size=size)
    settled, notes = settle_rests(spec, KNIFE, never)
    assert (settled, notes) == (spec, ())


def test_where_none_holds_the_other_ways_are_told_with_what_they_come_to() -> None:
    spec = order(row_of(plain_rectangle(18), gap_mm=2.0, rest="filler"), size=Size(97, 97))
    with pytest.raises(GeometryError) as caught:
        settle_rests(spec, KNIFE, choice(husk()))  # type: ignore[arg-type]
    assert caught.value.say == (
        "no motif goes into the 5.15 mm at the seam with gaps of 2 mm and keeps its details as wide as this card "
        "needs. Take --rest spread (15 with gaps of 2.21 mm) or --rest size (15 on 96 mm)."
    )


def test_a_size_found_by_another_row_is_filled_too() -> None:
    finding = row_of(arch(), count=16, gap_mm=2.0)
    filling = row_of(leaf(), gap_mm=3.0, rest="filler", inset_mm=1.0)
    spec = PieceSpec("hoop", "find", rows=(finding, filling))
    settled, (note,) = settle_rests(spec, KNIFE, choice(husk()))  # type: ignore[arg-type]
    assert settled.size == "find"
    assert settled.rows[1].filler == husk()
    assert note.say.startswith("took husk")


def test_a_rest_that_no_size_closes_is_refused_with_what_to_do() -> None:
    """Windows two webs and half their height in from the edge would stand past the middle of the ends of the oval."""
    spec = order(row_of(leaf(), place="window", rest="size"), size=Size(54, 16.2))
    with pytest.raises(GeometryError, match=r"past the middle of the edge's curve.*\. Take ") as caught:
        settle_rests(spec, KNIFE, never)
    assert caught.value.code == "inset"


@pytest.mark.slow
def test_a_refusal_after_a_rest_offers_what_holds_for_the_order_as_it_was_asked() -> None:
    """At another scale the rest closes on another size, so ways are tried with the rest still to be closed."""
    corners = row_of(
        load_motif("cobweb-corner"), count="most", inset_mm=9.398, is_mirrored_every_other=True, rest="size"
    )
    asked = PieceSpec("hoop", Size(73, 73), opening=Size(25, 25), rows=(corners,))
    settled, _ = settle_rests(asked, KNIFE, never)
    with pytest.raises(GeometryError, match="this card needs") as caught:
        make_piece(settled, KNIFE)
    offered = re.search(r"Take --opening (\d+\.?\d*)mm\.$", caught.value.say)
    assert offered is not None, caught.value.say
    width = float(offered[1])
    held, _ = settle_rests(replace(asked, opening=Size(width, width)), KNIFE, never)
    assert make_piece(held, KNIFE).size == held.size


def test_an_edge_that_goes_with_nothing_there_is_refused_before_any_filler_is_looked_for() -> None:
    across = order(row_of(leaf(), gap_mm=3.0, rest="filler", place="across", between="flat"))
    with pytest.raises(InputError, match="between flat goes with motifs that stand on an edge"):
        settle_rests(across, KNIFE, never)
    level = order(row_of(plain_rectangle(6, 4), count=6, rest="size", between="level"), size=Size(30, 30))
    with pytest.raises(InputError, match=r"between level goes with corner motifs, .* Take (--between|another motif)"):
        settle_rests(level, KNIFE, never)
