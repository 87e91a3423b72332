"""Samples gathered into places: runs that go over the seam of a loop, who faces whom, and the form of a place."""

from __future__ import annotations

import numpy as np
import pytest

from frameforge.check import places
from frameforge.check.chords import to_chords
from frameforge.check.discs import DiscSamples, tangent_discs
from frameforge.check.places import find_places
from frameforge.geometry.outline import Outline
from frameforge.geometry.region import Region
from frameforge.geometry.shapes import circle, rectangle


def flags(text: str) -> np.ndarray:
    return np.array([c == "1" for c in text])


def test_runs_are_numbered_and_go_over_the_seam_of_their_loop_only() -> None:
    loop = np.array([0] * 6 + [1] * 4 + [2] * 2)
    run = places._runs(loop, flags("110011" + "1011" + "11"))
    assert run[[2, 3, 7]].tolist() == [-1, -1, -1]
    assert run[0] == run[1] == run[4] == run[5]
    assert run[6] == run[8] == run[9]
    assert run[10] == run[11]
    assert len({run[0], run[6], run[10]}) == 3
    apart = places._runs(np.array([0] * 7), flags("0110110"))
    assert apart[1] == apart[2] != apart[4] == apart[5]
    seam = places._runs(np.array([0] * 4 + [1] * 3), flags("1001" + "011"))
    assert seam[0] == seam[3] != seam[5] == seam[6]
    half = places._runs(np.array([0, 0, 0, 1, 1]), flags("01111"))
    assert half[1] == half[2] != half[3] == half[4]


def test_loops_flagged_all_along() -> None:
    loop = np.array([0, 0, 1, 1, 2])
    assert places._whole_runs(loop, flags("11011")).tolist() == [True, True, False, False, True]
    assert places._loop_ends(loop) == [(0, 1), (2, 3), (4, 4)]


def test_runs_with_a_pair_between_them_share_the_least_number() -> None:
    run = np.array([0, 0, 1, 2, -1, 3, 4])
    assert places._joined(run, np.array([6, 3]), np.array([3, 2])).tolist() == [0, 0, 1, 1, -1, 3, 1]
    none = np.array([], dtype=np.int64)
    assert places._joined(run, none, none).tolist() == run.tolist()


@pytest.fixture(scope="module")
def strip() -> tuple[places._Edge, DiscSamples]:
    """A strip 0.8 mm wide and a ring 0.8 mm wide beside it."""
    chords = to_chords([Region(rectangle(0, 0, 12, 0.8)), Region(circle(30, 6), (circle(30, 5.2).reversed(),))])
    discs = tangent_discs(chords, 1.0, "card")
    return places._Edge.of(chords, discs), discs


@pytest.mark.parametrize("along", [0.0, 0.2, 12.3, 25.5])
def test_samples_near_a_place_are_those_within_a_step_of_it_round_the_seam_too(
    strip: tuple[places._Edge, DiscSamples], along: float
) -> None:
    edge, discs = strip
    reach = 1.01 * discs.step
    for loop in range(3):
        whole = edge.chords.loop_length[loop]
        asked, sample = edge.near(np.array([loop, loop]), np.array([along, along + 1]))
        for k in (0, 1):
            off = np.abs(discs.along - along - k) % whole
            wanted = np.flatnonzero((edge.loop == loop) & (np.minimum(off, whole - off) <= reach))
            assert sorted(sample[asked == k]) == wanted.tolist()


def test_each_contact_is_told_by_loop_and_place(strip: tuple[places._Edge, DiscSamples]) -> None:
    edge, discs = strip
    mine = np.flatnonzero(discs.is_opposite)
    loops, along = edge.contact(mine)
    on_strip = edge.loop[mine] == 0
    assert (loops[on_strip] == 0).all()
    assert {int(i) for i in loops[~on_strip] + edge.loop[mine][~on_strip]} == {3}
    low = on_strip & (discs.at[mine].imag < 0.1)
    assert discs.at[mine][low].real + along[low] == pytest.approx(np.full(low.sum(), 12 + 0.8 + 12))


def test_the_sample_nearest_to_each_asked_place() -> None:
    along = np.array([0.0, 1.0, 2.0, 3.0])
    none, nowhere, no_chord = np.zeros(4), np.zeros(4, dtype=np.complex128), np.zeros(4, dtype=np.int64)
    discs = DiscSamples(nowhere, no_chord, along, nowhere, none, nowhere, no_chord, 1.0, 1.0)
    found = places._closest_sample(
        discs, np.array([1.2, 9.0, 2.9]), np.array([2, 0, 0, 2, 0, 2]), np.array([1, 2, 1, 3, 0, 2]), 3
    )
    assert found.tolist() == [1, -1, 3]


def test_samples_that_face_each_other_lie_at_each_others_contact(strip: tuple[places._Edge, DiscSamples]) -> None:
    edge, discs = strip
    source, target = places._facing(edge, discs.is_opposite)
    assert (np.abs(discs.contact[source] - discs.at[target]) < 1.02 * discs.step).all()
    assert ((np.conj(discs.normal[source]) * discs.normal[target]).real < 0).all()
    assert set(source.tolist()) == set(np.flatnonzero(discs.is_opposite).tolist())


FORMS = [
    ([Region(rectangle(0, 0, 12, 0.8))], ["whole"]),
    ([Region(circle(30, 6), (circle(30, 5.2).reversed(),))], ["whole"]),
    ([Region(circle(0, 20), (circle(12, 7.4).reversed(),))], ["web"]),
    ([Region(Outline.from_points((0j, 20 + 0j, 20 + 9j, 12 + 0.8j, 0 + 9j)))], ["neck"]),
    (
        [Region(Outline.from_points((0j, 20 + 0j, 20 + 9j, 10.4 + 9j, 10.4 + 15j, 9.6 + 15j, 9.6 + 9j, 9j)))],
        ["dangling"],
    ),
    (
        [Region(Outline.from_points((0j, 40 + 0j, 40 + 9j, 32 + 0.8j, 20 + 9j, 12 + 0.8j, 0 + 9j)))],
        ["neck", "neck"],
    ),
    ([Region(circle(0, 20))], []),
]


@pytest.mark.parametrize(("regions", "forms"), FORMS)
def test_forms_of_places(regions: list[Region], forms: list[str]) -> None:
    chords = to_chords(regions)
    discs = tangent_discs(chords, 1.0, "card")
    found = find_places(chords, discs)
    assert [place.form for place in found] == forms
    for place in found:
        assert (np.diff(discs.radius[place.samples]) >= 0).all()
    assert [int(place.samples.min()) for place in found] == sorted(int(place.samples.min()) for place in found)
    assert sum(len(place.samples) for place in found) == discs.is_opposite.sum()
