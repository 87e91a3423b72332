"""On which edge a row stands, which way it points, how far into the card; seats and places of motifs on it."""

from __future__ import annotations

from typing import Any

import pytest
from fixtures.plain_motifs import arch, disc, plain_rectangle
from fixtures.rows import KNIFE, row_of

from frameforge.errors import GeometryError, InputError
from frameforge.frame.base import Edge
from frameforge.frame.ornament import Ready, ready
from frameforge.frame.place import Track, track_for, window_inset_mm
from frameforge.frame.spec import Ornament
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.motif.motif import Motif

BASE, OPENING = Edge(50, 50), Edge(30, 30)
SPEAR_POINTS = (0j, -2 - 3j, -0.8 - 3j, -0.8 - 9j, 0.8 - 9j, 0.8 - 3j, 2 - 3j)
SPEAR = Motif(
    "spear", (Region(Outline.from_points(SPEAR_POINTS)),), 12.0, cut_away=(Region(rectangle(-6, -8, 6, 0.3)),)
)


def of(motif: Motif) -> Ready:
    return ready(Ornament(motif), 1.0, is_flipped=False)


@pytest.mark.parametrize(
    ("more", "track"),
    [
        ({}, Track(BASE, 1, "foot", "base")),
        ({"on": "opening"}, Track(OPENING, 1, "foot", "none")),
        ({"place": "in"}, Track(OPENING, -1, "foot", "opening")),
        ({"place": "in", "on": "base"}, Track(BASE, -1, "foot", "none")),
        ({"place": "window"}, Track(BASE, 1, "middle", "none")),
        ({"place": "window", "on": "opening"}, Track(OPENING, 1, "middle", "none")),
        ({"place": "across"}, Track(BASE, 1, "middle", "none")),
        ({"place": "across", "on": "opening"}, Track(OPENING, -1, "middle", "none")),
        ({"seat": "bent"}, Track(BASE, 1, "foot", "base", is_bent=True)),
        ({"seat": "bent", "place": "window"}, Track(BASE, 1, "middle", "none", is_bent=True)),
        ({"seat": "bent", "place": "across"}, Track(BASE, 1, "middle", "none", is_bent=True)),
        ({"depth_mm": 2.0}, Track(BASE, 1, "foot", "base", 2.0)),
        ({"depth_mm": 2.0, "place": "window"}, Track(BASE, 1, "middle", "none")),
    ],
)
def test_the_edge_a_row_stands_on_and_the_way_it_points(more: dict[str, Any], track: Track) -> None:
    assert track_for(row_of(arch(), **more), BASE, OPENING, 0.0) == track


@pytest.mark.parametrize(("on", "radius"), [("base", 42), ("opening", 38)])
def test_an_inset_goes_from_either_edge_into_the_card(on: str, radius: float) -> None:
    row = row_of(arch(), place="window", on=on)
    assert track_for(row, BASE, OPENING, 8.0).edge == Edge(radius, radius)


def test_an_inset_ends_before_the_middle_of_the_edges_curve() -> None:
    """An oval of 60 x 20 mm has its least radius, 3.33 mm, at its ends."""
    oval, row = Edge(30, 10), row_of(disc(), place="window")
    assert track_for(row, oval, None, 3.333).edge.offset_mm == -3.333
    with pytest.raises(GeometryError) as caught:
        track_for(row, oval, None, 10 / 3)
    assert caught.value.say == (
        "an inset of 3.33 mm is past the middle of the edge's curve; it can be less than 3.33 mm."
    )
    assert (caught.value.code, caught.value.numbers) == (
        "inset", {"inset_mm": 10 / 3, "limit_mm": pytest.approx(10 / 3)},
    )  # fmt: skip
    with pytest.raises(GeometryError, match=r"an inset of 5\.00 mm is past the middle"):
        track_for(row, oval, None, 5.0)
    outer = row_of(disc(), place="window", on="opening")
    assert track_for(outer, BASE, Edge(30, 10), 20.0).edge.offset_mm == 20


def test_a_row_without_the_opening_that_it_needs_is_refused() -> None:
    with pytest.raises(InputError) as caught:
        track_for(row_of(arch(), on="opening"), BASE, None, 0.0)
    assert caught.value.say == ("the row stands on the opening, and there is none. Give the piece an opening or a rim.")
    with pytest.raises(InputError) as caught:
        track_for(row_of(arch(), place="in"), BASE, None, 0.0)
    assert caught.value.say == "a row that faces in needs a hole to reach into. Give the piece an opening or a rim."


def test_windows_that_say_nothing_lie_in_the_middle_of_the_rim_or_two_webs_in() -> None:
    def inset(base: Edge = BASE, opening: Edge | None = OPENING, **more: Any) -> float:
        return window_inset_mm(row_of(disc(), **more), base, opening, 7.0, KNIFE)

    assert inset(place="window") == 10
    assert inset(Edge(50, 40), Edge(30, 30), place="window") == 5
    assert inset(Edge(40, 50), Edge(30, 30), place="window") == 5
    assert inset(Edge(75, 50), Edge(75, 50, -12), place="window") == 6
    assert inset(Edge(75, 50, 4), Edge(75, 50), place="window") == 2
    assert inset(opening=None, place="window") == 3.5 + 2 * KNIFE.least_web_mm
    assert inset(place="window", inset_mm=4.0) == 4
    assert inset(inset_mm=4.0) == 4
    assert inset() == 0


def test_seats_by_foot_by_middle_and_by_tip() -> None:
    foot = Track(BASE, 1, "foot", "base").seat(of(plain_rectangle(60, 4)), 0.0)
    assert (foot.left, foot.right, foot.sagitta_mm) == (
        pytest.approx(-30 + 40j), pytest.approx(30 + 40j), pytest.approx(10),
    )  # fmt: skip
    middle = Track(BASE, 1, "middle", "none").seat(of(plain_rectangle(60, 4)), 0.0)
    assert (middle.middle, middle.left, middle.right) == (50j, 50j, 50j)
    tip = Track(OPENING, -1, "foot", "opening", 2.0).seat(of(SPEAR), 0.0)
    assert (tip.middle, tip.left, tip.right) == (
        pytest.approx(30j), pytest.approx(-6 + 32j), pytest.approx(6 + 32j),
    )  # fmt: skip


def test_the_line_of_a_motif_that_lies_on_the_edge() -> None:
    bar, spear = of(plain_rectangle(6, 8)), of(SPEAR)
    assert Track(BASE, 1, "middle", "none").drop_mm(bar) == 4
    assert Track(BASE, 1, "foot", "base", 2.0).drop_mm(bar) == 0
    assert Track(OPENING, -1, "foot", "opening", 2.0).drop_mm(spear) == 2


@pytest.mark.parametrize(
    ("track", "motif", "foot"),
    [
        (Track(BASE, 1, "foot", "base"), plain_rectangle(60, 4), 40j),
        (Track(OPENING, -1, "foot", "opening"), plain_rectangle(36, 4), 24j),
        (Track(BASE, 1, "middle", "none"), plain_rectangle(6, 8), 46j),
        (Track(OPENING, -1, "foot", "opening", 2.0), SPEAR, 32j),
    ],
)
def test_a_motif_is_placed_on_its_seat(track: Track, motif: Motif, foot: complex) -> None:
    of_motif = of(motif)
    place = track.placement(of_motif, track.seat(of_motif, 0.0))
    assert place.apply(0j) == pytest.approx(foot)
    assert place.apply(1j) - place.apply(0j) == pytest.approx(1j * track.side)


def test_bent_seats_come_for_many_at_once_and_one_by_one() -> None:
    track = Track(BASE, 1, "foot", "base", is_bent=True)
    bar = of(plain_rectangle(6, 8))
    many = track.seats([bar, bar], [0.0, 1.0])
    assert track.seat(bar, 1.0) == many[1]
    assert abs(many[0].left - 50j) == pytest.approx(100 * 0.02998, abs=1e-2)
    middles = Track(BASE, 1, "middle", "none", is_bent=True).seats([bar], [0.0])
    assert middles[0].left == pytest.approx(middles[0].right)


def test_a_track_on_another_edge_is_the_same_otherwise() -> None:
    track = Track(BASE, 1, "foot", "base", 2.0, is_bent=True)
    assert track.on(OPENING) == Track(OPENING, 1, "foot", "base", 2.0, is_bent=True)
    assert (Track(BASE, 1, "foot", "base").sink_mm, Track(BASE, 1, "foot", "base").is_bent) == (0.0, False)


def test_every_motif_has_a_place_of_its_own() -> None:
    bar = of(plain_rectangle(6, 8))
    with pytest.raises(ValueError, match="zip"):
        Track(BASE, 1, "foot", "base").seats([bar], [0.0, 1.0])
