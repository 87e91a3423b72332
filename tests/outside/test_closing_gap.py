"""The closing gap against values computed twice by independent programs (no printed source), and against chords."""

from __future__ import annotations

import math
from typing import Any

import pytest
from fixtures.plain_motifs import arch, drop, husk, leaf, plain_rectangle, pod, scallop
from fixtures.rows import D100, model_of
from hypothesis import given, settings
from hypothesis import strategies as st

from frameforge.frame.chain import longest_chain
from frameforge.frame.closing import closing_answers
from frameforge.frame.filler import largest_filler, ranked
from frameforge.frame.spec import Size

OVAL = Size(150, 100)


@pytest.mark.parametrize("more", [{}, {"foot_gap_mm": 2.0}], ids=["between outlines", "between feet"])
def test_feet_of_18_on_100_leave_14_625_mm(more: dict[str, Any]) -> None:
    model = model_of(plain_rectangle(18), **more)
    chain = longest_chain(model, D100, 1.0, 2.0)
    assert chain is not None
    assert chain.count == 15
    assert round(chain.seam_gap_mm, 6) == 14.625077
    filler = largest_filler(model, chain, plain_rectangle(18))
    assert filler is not None
    assert round(filler.ready.foot_mm, 6) == 10.657178
    assert filler.gaps_mm == pytest.approx((2, 2), abs=1e-10)


def test_25_leaves_on_an_oval_leave_12_188_mm_at_the_bottom() -> None:
    model = model_of(leaf())
    chain = longest_chain(model, OVAL, 1.0, 3.0)
    assert chain is not None
    assert chain.count == 25
    assert round(chain.seam_gap_mm, 6) == 12.187808
    assert abs(math.remainder(chain.taus[12], math.tau)) < 1e-12, "a motif stands at the top"
    found = {filler.motif.name: filler for filler in ranked(model, chain, [husk(), drop(), arch(), scallop()])}
    scales = {name: round(filler.scale, 6) for name, filler in found.items()}
    assert scales == {"drop": 0.713692, "husk": 0.772998, "arch": 0.550645, "scallop": 0.849168}
    assert list(found) == ["drop", "husk", "arch", "scallop"], "nearest in height to the leaf first"
    for filler in found.values():
        assert filler.gaps_mm == pytest.approx((3, 3), abs=1e-10)


@settings(max_examples=3)
@given(size=st.floats(60, 250), share=st.floats(0.05, 0.2), gap=st.floats(0.2, 6))
def test_on_circles_the_rest_follows_from_angles(size: float, share: float, gap: float) -> None:
    """Second road: n feet turn by 2 asin(w/D) each, n - 1 gaps by 2 asin(g/D); what is left is the seam."""
    foot = share * size
    turn = 2 * (math.asin(share) + math.asin(gap / size))
    count = math.floor(math.tau / turn)
    rest = math.pi - count * math.asin(share) - (count - 1) * math.asin(gap / size)
    model = model_of(plain_rectangle(foot), size=Size(size, size))
    chain = longest_chain(model, Size(size, size), 1.0, gap)
    assert chain is not None
    assert chain.count == count
    assert chain.seam_gap_mm == pytest.approx(size * math.sin(rest), abs=1e-9)
    fills = size * math.sin(rest - 2 * math.asin(gap / size))
    filler = largest_filler(model, chain, plain_rectangle(10))
    if fills < model.preset.least_neck_mm:
        assert filler is None
    else:
        assert filler is not None
        assert filler.ready.foot_mm == pytest.approx(fills, abs=1e-9)


@settings(max_examples=3)
@given(size=st.floats(60, 250), share=st.floats(0.05, 0.2), gap=st.floats(0.2, 6))
def test_the_sizes_that_close_are_those_of_the_closed_form(size: float, share: float, gap: float) -> None:
    """D = sqrt(w^2 + g^2 + 2 w g cos(pi/n)) / sin(pi/n): chord geometry; and each is measured again."""
    foot = share * size
    found = closing_answers(model_of(plain_rectangle(foot)), Size(size, size), 1.0, gap, [])
    assert found is not None
    for answer in found.of("size"):
        half = math.pi / answer.count
        wanted = math.sqrt(foot**2 + gap**2 + 2 * foot * gap * math.cos(half)) / math.sin(half)
        assert answer.size.width_mm == pytest.approx(wanted, abs=1e-7)
        assert answer.gap_mm == pytest.approx(gap, abs=1e-8)
    assert [answer.count for answer in found.of("size")] == [found.chain.count, found.chain.count + 1]


@pytest.mark.parametrize(
    ("motifs", "size", "more"),
    [
        ((leaf(),), OVAL, {}),
        ((pod(),), OVAL, {"seam_deg": 200.0}),
        ((husk(), drop()), Size(120, 140), {"seam_deg": 45.0}),
        ((leaf(),), D100, {"seam_deg": 330.0, "is_mirrored_every_other": True}),
    ],
    ids=["at the bottom", "askew", "a pattern", "mirrored"],
)
def test_the_middle_of_the_seam_lies_where_it_was_wanted(
    motifs: tuple[object, ...], size: Size, more: dict[str, object]
) -> None:
    model = model_of(*motifs, size=size, **more)  # type: ignore[arg-type]
    chain = longest_chain(model, size, 1.0, 1.5)
    assert chain is not None
    layout = chain.layout()
    ends = layout.seats[-1].right, layout.seats[0].left
    before, after = (math.degrees(math.atan2(end.real, end.imag)) for end in ends)
    middle = before + (after - before) % 360 / 2
    assert abs(math.remainder(middle - float(more.get("seam_deg", 180.0)), 360)) < 0.01  # type: ignore[arg-type]
    assert all(abs(gap.gap_mm - 1.5) < 1e-9 for gap in layout.gaps[:-1] if gap)
