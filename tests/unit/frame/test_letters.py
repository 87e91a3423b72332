"""Words on a piece: where they lie, how they shrink, what holds them."""

from __future__ import annotations

import cmath
import math
from importlib import resources
from itertools import pairwise
from pathlib import Path

import pytest

from frameforge.card.preset import Preset
from frameforge.errors import GeometryError, InputError
from frameforge.frame.base import Edge
from frameforge.frame.letters import Lettered, lettered, shrink_to
from frameforge.frame.spec import Size
from frameforge.frame.text_spec import TextSpec
from frameforge.geometry.combine import difference, evaluate, union
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.geometry.outline import Outline
from frameforge.job.presets import find_preset
from frameforge.read.font_file import Font, read_font
from frameforge.tolerances import ROOT_MM

DEJAVU = Path("/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf")
DISC = Edge.from_size(Size(60, 60))
RING = (Edge.from_size(Size(120, 80)), Edge.from_size(Size(84, 44)))


@pytest.fixture(scope="module")
def font() -> Font:
    return read_font(resources.files("frameforge.picture").joinpath("fonts", "Overpass-Bold.ttf").read_bytes(), "own")


@pytest.fixture(scope="module")
def preset() -> Preset:
    return find_preset("card-240-knife").preset


def _points(outlines: tuple[Outline, ...]) -> list[complex]:
    return [segment.point(t) for o in outlines for segment in o.segments for t in (0, 0.25, 0.5, 0.75)]


def _set(text: TextSpec, base: Edge, opening: Edge | None, preset: Preset) -> Lettered:
    return lettered([text], base, opening, preset, "badge")


def test_shrinking_to_240_degrees_of_a_radius_of_22() -> None:
    """240/360 of 2 pi 22 is 92.153 mm; 31 letters of 3.6 mm take 111.6 mm: scale .8257."""
    room = 240 / 360 * 2 * math.pi * 22
    assert round(room, 3) == 92.153
    assert round(shrink_to(31 * 3.6, room), 4) == 0.8257
    assert shrink_to(25 * 3.6, room) == 1.0


def test_a_badge_s_name_runs_on_a_radius_of_22(font: Font, preset: Preset) -> None:
    """60 mm less 2 mm of clear card and capitals of 6 mm: baseline at 22, tops at 28 where letters are narrow."""
    found = _set(TextSpec("HIH", font), DISC, None, preset)
    radii = [abs(point) for point in _points(found.marks)]
    assert min(radii) == pytest.approx(22, abs=0.02)
    assert 28 < max(radii) < 28.4
    assert found.adds == found.pierces == ()
    assert found.notes == ()


def test_the_middle_of_the_words_lies_where_asked(font: Font, preset: Preset) -> None:
    for at in (0.0, 90.0, 200.0):
        found = _set(TextSpec("HOH", font, at_deg=at), DISC, None, preset)
        middle = sum(bounds(outline).center for outline in found.marks[:1] + found.marks[-1:]) / 2
        clock = math.degrees(math.pi / 2 - cmath.phase(middle)) % 360
        assert (clock - at + 180) % 360 - 180 == pytest.approx(0, abs=0.5)


def test_letters_take_the_angle_of_their_length_over_the_radius(font: Font, preset: Preset) -> None:
    """Angle = L / r: the first and the last of n equal letters are (n - 1) advances apart."""
    found = _set(TextSpec("HHHHHHHH", font), DISC, None, preset)
    advance = font.set_line("H")[0].advance * 6 / font.cap_height
    ways = [cmath.phase(bounds(outline).center) for outline in found.marks]
    assert abs(ways[0] - ways[-1]) == pytest.approx(7 * advance / 22, rel=5e-3)


def test_words_too_long_shrink_and_say_so(font: Font, preset: Preset) -> None:
    found = _set(TextSpec("Bartholomallow Featherstonecrop", font), DISC, None, preset)
    assert "scale" in found.notes[0]
    ways = [math.degrees(math.pi / 2 - cmath.phase(point)) for point in _points(found.marks)]
    clock = [(way + 180) % 360 - 180 for way in ways]
    assert max(clock) - min(clock) == pytest.approx(240, abs=3)


def test_words_read_from_the_inside_stand_the_other_way_up(font: Font, preset: Preset) -> None:
    """The foot of an L is at its baseline: outermost when read from the inside at the bottom."""
    outside = _set(TextSpec("L", font), DISC, None, preset)
    inside = _set(TextSpec("L", font, reads="inside", at_deg=180), DISC, None, preset)
    (up,), (down,) = outside.marks, inside.marks
    assert bounds(up).bottom > 0
    assert bounds(down).top < 0
    # Read upright both times: the foot of the L goes to the right, below its stem.
    for outline in (up, down):
        box = bounds(outline)
        low = [p.real for p in _points((outline,)) if p.imag < box.bottom + 0.5]
        high = [p.real for p in _points((outline,)) if p.imag > box.top - 0.5]
        assert max(low) > max(high)


@pytest.mark.parametrize("words", ["Élodeà Crësswick", "BOARD 8 & 90", "Quillon Øgaeb"])
def test_cut_letters_leave_no_loose_islands(words: str, font: Font, preset: Preset) -> None:
    found = _set(TextSpec(words, font, "window", cap_mm=9, limit_deg=340), *RING, preset)
    card = difference(RING[0].region(), RING[1].region(), *found.pierces)
    assert len(evaluate(card).regions) == 1
    assert "hold what lies inside letters" in found.notes[-1]


def test_ties_of_letters_run_straight_up_and_down(font: Font, preset: Preset) -> None:
    found = _set(TextSpec("O", font, "window", along="middle", cap_mm=12), DISC, None, preset)
    assert len(found.pierces) == 2
    left, right = sorted((bounds(region) for region in found.pierces), key=lambda box: box.left)
    assert right.left - left.right == pytest.approx(preset.least_web_mm, abs=1e-6)
    assert left.bottom == pytest.approx(right.bottom, abs=0.05)


@pytest.mark.parametrize("words", ["Radish Minty", "Élodeà-jüi", "i", "-"])
def test_joined_letters_are_one_with_the_rim(words: str, font: Font, preset: Preset) -> None:
    base = Edge.from_size(Size(80, 80))
    found = _set(TextSpec(words, font, "join", cap_mm=10), base, None, preset)
    joined = evaluate(union(base.region(), *found.adds)).regions
    assert len(joined) == 1
    assert area_mm2(joined) > area_mm2([base.region()]) + 1
    opening = Edge.from_size(Size(70, 70))
    inner = _set(TextSpec(words, font, "join", reads="inside", at_deg=180, cap_mm=8), base, opening, preset)
    whole = evaluate(union(difference(base.region(), opening.region()), *inner.adds)).regions
    assert len(whole) == 1


def test_a_joined_letter_sinks_by_a_root_and_what_the_edge_falls_away_below_it(font: Font, preset: Preset) -> None:
    """A chord of w lies w^2 / (8 R) below its arc: on twice the radius half as much, and the root stays."""

    def sunk_mm(radius_mm: float) -> float:
        base = Edge.from_size(Size(2 * radius_mm, 2 * radius_mm))
        found = _set(TextSpec("H", font, "join", cap_mm=10), base, None, preset)
        segments = [s for add in evaluate(union(*found.adds)).regions for s in add.outer.segments]
        return radius_mm + 10 - bounds(segments).top

    near, far = sunk_mm(40), sunk_mm(80)
    assert near > far + 0.05
    assert 2 * far - near == pytest.approx(ROOT_MM, abs=1e-6)


def test_lines_in_the_middle_are_centred_and_go_in(font: Font, preset: Preset) -> None:
    found = _set(TextSpec("HIH\nHHH", font, along="middle", cap_mm=5), DISC, None, preset)
    box = bounds([segment for outline in found.marks for segment in outline.segments])
    assert box.center == pytest.approx(0, abs=0.3)
    assert box.height_mm == pytest.approx(5 * 2.6, abs=0.01)
    wide = _set(TextSpec("H" * 22, font, along="middle", cap_mm=5), DISC, None, preset)
    assert max(abs(point) for point in _points(wide.marks)) <= 28 + 1e-6
    assert max(abs(point) for point in _points(wide.marks)) > 27


@pytest.mark.skipif(not DEJAVU.exists(), reason="fonts-dejavu-core is not there")
def test_words_from_right_to_left_are_set_so(preset: Preset) -> None:
    """The first letter of a Hebrew word stands at the right."""
    dejavu = read_font(DEJAVU.read_bytes(), "DejaVuSans.ttf")
    found = _set(TextSpec("לו", dejavu, along="middle"), DISC, None, preset)
    lamed, vav = (dejavu.glyph_regions(dejavu.set_line(sign)[0].glyph) for sign in "לו")
    heights = [bounds(outline).height_mm for outline in sorted(found.marks, key=lambda o: bounds(o).left)]
    scale = 6 / dejavu.cap_height
    assert heights == pytest.approx([bounds(vav).height_mm * scale, bounds(lamed).height_mm * scale])


@pytest.mark.skipif(not DEJAVU.exists(), reason="fonts-dejavu-core is not there")
def test_letters_of_a_joined_script_are_marked_as_one_line(preset: Preset) -> None:
    dejavu = read_font(DEJAVU.read_bytes(), "DejaVuSans.ttf")
    found = _set(TextSpec("سلام", dejavu, along="middle", cap_mm=12), DISC, None, preset)
    boxes = sorted((bounds(outline) for outline in found.marks), key=lambda box: box.left)
    assert all(a.right < b.left for a, b in pairwise(boxes) if a.height_mm > 3 and b.height_mm > 3)


@pytest.mark.parametrize(
    ("words", "given", "said"),
    [
        (" ", {}, "no words"),
        ("אב", {}, 'no letter for "א", "ב"'),
        ("two\nlines", {}, "one line"),
        ("A", {"style": "join", "along": "middle"}, "no edge to be joined to"),
        ("A", {"style": "join", "reads": "inside"}, "stand in an opening"),
    ],
)
def test_what_cannot_be_lettered_is_told(
    words: str, given: dict[str, str], said: str, font: Font, preset: Preset
) -> None:
    with pytest.raises(InputError, match=said):
        _set(TextSpec(words, font, **given), DISC, None, preset)  # type: ignore[arg-type]  # words of the recipe


def test_no_room_is_told_with_what_there_is(font: Font, preset: Preset) -> None:
    with pytest.raises(GeometryError, match="no room in a rim of 18 mm"):
        _set(TextSpec("A", font, cap_mm=19), *RING, preset)
    with pytest.raises(GeometryError, match="too small to read"):
        _set(TextSpec("word " * 60, font), DISC, None, preset)
    with pytest.raises(GeometryError, match="tight an edge"):
        _set(TextSpec("A", font, cap_mm=30), DISC, None, preset)
    with pytest.raises(InputError, match="middle of this piece is a hole"):
        _set(TextSpec("A", font, along="middle"), *RING, preset)


@pytest.mark.parametrize(
    ("words", "reads", "slack_mm"), [("É", "outside", 0.02), ("WÄÜW", "outside", 0.05), ("gjQ", "inside", 0.1)]
)
def test_accents_and_tails_that_are_cut_out_leave_a_web_to_the_edge(
    words: str, reads: str, slack_mm: float, font: Font, preset: Preset
) -> None:
    """The web is kept, and hardly more: letters are not set further in than they must be."""
    text = TextSpec(words, font, "window", reads=reads, cap_mm=6)  # type: ignore[arg-type]
    found = _set(text, DISC, None, preset)
    cut = [outline for region in found.pierces for outline in (region.outer, *region.holes)]
    web = 30 - max(abs(point) for point in _points(tuple(cut)))
    assert -1e-9 <= web - preset.least_web_mm < slack_mm


@pytest.mark.parametrize("words", ["H" * 16, "\n".join(["H" * 12] * 2), "\n".join(["H" * 9, "H" * 3, "H" * 9])])
def test_words_in_the_middle_are_as_large_as_the_oval_lets_them_be(words: str, font: Font, preset: Preset) -> None:
    """The corners of the widest lines lie on the oval 2 mm inside, less what a letter keeps clear at its sides."""
    edge = Edge.from_size(Size(80, 60))
    found = _set(TextSpec(words, font, along="middle", cap_mm=16), edge, None, preset)
    reach = [math.hypot(point.real / 38, point.imag / 28) for point in _points(found.marks)]
    assert 0.95 < max(reach) <= 1 + 1e-6
    heights = [point.imag for point in _points(found.marks)]
    assert max(heights) == pytest.approx(-min(heights), abs=0.05)
