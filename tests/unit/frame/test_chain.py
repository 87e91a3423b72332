"""A stated gap stepped round an edge."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from fixtures.plain_motifs import arch, disc, drop, husk, leaf, plain_rectangle
from fixtures.rows import D100, model_of

from frameforge.errors import GeometryError, InputError
from frameforge.frame import chain as chain_module
from frameforge.frame.chain import Chain, chain_of, longest_chain, seam_deg, step_gaps
from frameforge.frame.model import RowModel
from frameforge.frame.spec import Size
from frameforge.frame.standing import stand
from frameforge.motif.catalogue import load_motif

OVAL = Size(150, 100)


def test_an_even_ring_on_a_circle_has_one_pitch() -> None:
    chain = longest_chain(model_of(arch()), D100, 1.0, 3.0)
    assert chain is not None
    steps = [b - a for a, b in pairwise(chain.taus)]
    assert max(steps) - min(steps) < 1e-14
    assert steps[0] == pytest.approx(2 * (math.asin(0.16) + math.asin(0.03)), abs=1e-12)


@pytest.mark.parametrize("motif", [leaf(), husk(), disc()], ids=lambda motif: motif.name)
def test_a_row_is_its_own_mirror_image_about_the_seam(motif: object) -> None:
    chain = longest_chain(model_of(motif), OVAL, 1.0, 2.5)  # type: ignore[arg-type]
    assert chain is not None
    middles = [seat.middle for seat in chain.layout().seats]
    for one, other in zip(middles, reversed(middles), strict=True):
        assert abs(one + other.conjugate()) < 1e-12
    sums = [one + other for one, other in zip(chain.taus, reversed(chain.taus), strict=True)]
    assert max(sums) - min(sums) < 4e-15, "what rounding did to the places is taken out"


def test_one_pair_more_would_close_the_seam_too_far() -> None:
    model = model_of(leaf())
    chain = longest_chain(model, OVAL, 1.0, 3.0)
    assert chain is not None
    assert chain.seam_gap_mm >= 3.0 > chain_of(model, OVAL, chain.count + 1, 1.0, 3.0).seam_gap_mm


def test_a_gap_opposite_the_seam_makes_the_count_even() -> None:
    free, even = (longest_chain(model_of(leaf(), starts_with_gap=half), OVAL, 1.0, 3.0) for half in (False, True))
    assert free is not None
    assert even is not None
    assert (free.count, even.count) == (25, 24)
    assert even.taus[11] + even.taus[12] == pytest.approx(2 * math.tau, abs=1e-12)


def test_a_ring_that_just_closes_keeps_its_last_repeat() -> None:
    """Six feet of 50 touch all round a circle of 100."""
    chain = longest_chain(model_of(plain_rectangle(50)), D100, 1.0, 0.0)
    assert chain is not None
    assert chain.count == 6
    assert abs(chain.seam_gap_mm) < 1e-6


def test_patterns_are_stepped_whole() -> None:
    chain = longest_chain(model_of(husk(), drop(), drop()), OVAL, 1.0, 2.0)
    assert chain is not None
    assert chain.count % 3 == 0
    assert [made.motif.name for made in chain.readies[:4]] == ["husk", "drop", "drop", "husk"]


def test_it_stands_on_an_opening_too() -> None:
    opening = Size(80, 80)
    model = model_of(plain_rectangle(9, 4), opening=opening, place="in")
    chain = longest_chain(model, D100, 1.0, 2.0)
    assert chain is not None
    layout = chain.layout()
    assert all(abs(abs(seat.left) - 40) < 1e-9 for seat in layout.seats)
    assert layout.gap_mm == pytest.approx(2.0, abs=1e-9)


def test_below_three_there_is_no_rest() -> None:
    assert longest_chain(model_of(plain_rectangle(90)), D100, 1.0, 2.0) is None


def test_a_foot_wider_than_the_edge_finds_no_seat() -> None:
    with pytest.raises(GeometryError, match="as wide as the edge"):
        chain_of(model_of(plain_rectangle(120)), D100, 3, 1.0, 2.0)


def test_the_seam_lies_opposite_the_start() -> None:
    assert seam_deg(model_of(arch())) == 180.0
    assert seam_deg(model_of(arch(), start_deg=200.0)) == 20.0
    assert seam_deg(model_of(arch(), seam_deg=-30.0)) == 330.0
    assert seam_deg(model_of(arch(), seam_deg=200.0, start_deg=20.0)) == 200.0
    with pytest.raises(InputError, match="starts at 15 deg, so its seam lies at 195 deg, not at 90"):
        seam_deg(model_of(arch(), seam_deg=90.0, start_deg=15.0))


def test_on_an_edge_far_too_small_no_crowd_is_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    tried: list[int] = []

    def counted(model: RowModel, size: Size, count: int, scale: float, gap_mm: float) -> Chain:
        tried.append(count)
        return chain_of(model, size, count, scale, gap_mm)

    monkeypatch.setattr("frameforge.frame.chain.chain_of", counted)
    assert longest_chain(model_of(load_motif("strawberry-corner")), Size(1e-4, 1e-4), 1.0, 2.7) is None
    assert max(tried) == 3


def test_the_seam_of_a_pattern_lies_between_its_last_and_its_first() -> None:
    """14 bars of 18 and 6 mm, 3 mm apart at their feet on a circle of 100 mm: what 13 steps leave of a turn."""
    chain = chain_of(model_of(plain_rectangle(18), plain_rectangle(6)), D100, 14, 1.0, 3.0)
    feet = math.asin(0.18) + math.asin(0.06)
    left = math.tau - 13 * (feet + 2 * math.asin(0.03))
    assert chain.seam_gap_mm == pytest.approx(100 * math.sin((left - feet) / 2), abs=1e-9)


@pytest.mark.parametrize(
    ("start", "seam", "wanted"),
    [(0.0, None, 180.0), (90.0, None, 270.0), (350.0, None, 170.0), (0.0, 40.0, 40.0), (0.0, -30.0, 330.0),
     (90.0, 270.0, 270.0), (90.0, -90.0, 270.0), (200.0, 380.0, 20.0)],
)  # fmt: skip
def test_the_seam_is_where_it_was_stated_or_opposite_the_start(start: float, seam: float | None, wanted: float) -> None:
    assert seam_deg(model_of(arch(), start_deg=start, seam_deg=seam)) == pytest.approx(wanted, abs=1e-12)


@pytest.mark.parametrize("seam", [100.0, 460.0])
def test_a_seam_that_is_not_opposite_a_stated_start_is_told_where_it_lies(seam: float) -> None:
    with pytest.raises(InputError) as fault:
        seam_deg(model_of(arch(), start_deg=90.0, seam_deg=seam))
    assert str(fault.value) == (
        "hoop: the row starts at 90 deg, so its seam lies at 270 deg, not at 100. Leave out the start or the seam."
    )
    assert fault.value.numbers == {"start_deg": 90.0, "seam_deg": seam}


@pytest.mark.parametrize("turn", [0.5, 0.2])
def test_steps_from_foot_to_foot_have_their_gap_and_direction_also_where_feet_overlap(turn: float) -> None:
    """Foot ends lie asin .16 beside the axes on R = 50: 100 sin(turn / 2 - asin .16) between them, below 0 at .2."""
    model = model_of(arch())
    track, readies = model.track(D100, 1.0), model.readies(2, 1.0)
    (gap,) = step_gaps(*stand(track, readies, (0.0, turn)), by_foot=True)
    half = math.asin(0.16)
    assert gap.gap_mm == pytest.approx(100 * math.sin(turn / 2 - half), abs=1e-9)
    assert gap.direction == pytest.approx(complex(math.cos(turn / 2), -math.sin(turn / 2)), abs=1e-9)
    assert gap.on_a == pytest.approx(50 * complex(math.sin(half), math.cos(half)), abs=1e-9)
    assert gap.on_b == pytest.approx(50 * complex(math.sin(turn - half), math.cos(turn - half)), abs=1e-9)
    assert gap.turning == 0
    (between,) = step_gaps(*stand(track, readies, (0.0, 0.5)), by_foot=False)
    assert between.gap_mm == pytest.approx(100 * math.sin(0.25 - half), abs=1e-9)


def test_what_is_left_at_the_seam_of_a_round_chain_is_the_rest_of_the_turn() -> None:
    """Ten arches 3 mm apart each turn by 2 (asin .16 + asin .03), nine steps; the seam lies opposite the start."""
    chain = chain_of(model_of(arch(), start_deg=30.0), D100, 10, 1.0, 3.0)
    step = 2 * (math.asin(0.16) + math.asin(0.03))
    assert (chain.count, chain.gap_mm) == (10, 3.0)
    assert chain.seam_rad == pytest.approx(math.radians(210), abs=1e-12)
    assert (chain.taus[0] + chain.taus[-1]) / 2 % math.tau == pytest.approx(math.radians(30), abs=1e-9)
    rest = math.tau - 9 * step
    assert chain.layout().foot_gaps[-1] == pytest.approx(100 * math.sin(rest / 2 - math.asin(0.16)), abs=1e-8)
    assert chain.seam_gap_mm == chain.layout().gaps[-1].gap_mm  # type: ignore[union-attr]
    crowded = chain_of(model_of(arch()), D100, 40, 1.0, 3.0)
    assert crowded.seam_gap_mm == -math.inf, "more than a whole turn"


def test_gaps_that_cannot_be_stepped_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(chain_module, "_ITERATIONS", 0)
    with pytest.raises(GeometryError) as fault:
        chain_of(model_of(arch()), D100, 8, 1.0, 3.0)
    assert fault.value.say == "gaps of 3 mm between 8 motifs cannot be stepped round this edge. Take another gap."
    assert (fault.value.code, fault.value.numbers) == ("no-chain", {"count": 8, "gap_mm": 3.0})
