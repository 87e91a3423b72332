"""Our own small drawings, one for each thing a drawing program may write; areas in closed form.

Sources: SVG 2 chapters 5 (structure), 6 (styling), 7 - 8 (coordinate systems), 11 (painting); CSS Masking 1 (clips).
"""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from frameforge.errors import InputError
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.read.drawing import Drawing
from frameforge.read.svg import read_drawing

FOLDER = Path(__file__).parents[2] / "fixtures" / "svg"
QUARTER = math.pi / 4


def drawing(name: str, **options: bool | str) -> Drawing:
    """Return one of our own small drawings."""
    return read_drawing((FOLDER / name).read_bytes(), where=name, **options)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        # 40 mm / 80 units: half a millimetre a unit; the circle's area times every determinant
        ("leaf-in-groups.svg", 100 * math.pi * 2 / 4),
        # circles of diameter 10, 20 and (5 wide, so) 5, then two squares of 4
        ("pea-symbols.svg", QUARTER * (100 + 400 + 25) + 32),
        # one card, one visible child of a hidden group, one path that has its curve from the style sheet
        ("styled-badge.svg", 100 + 40 + 100),
        # half a disc of radius 10; a quarter of 12 x 8; the lower left quarter of a disc
        ("clipped-seed.svg", 50 * math.pi + 24 + 25 * math.pi),
        # half a millimetre a unit: 40 x 20; a quarter disc of 40; 30 x 10 overflowing; 40 x 20 full
        ("nested-pages.svg", (800 + 400 * math.pi + 300 + 800) / 4),
        # nonzero: a full square; evenodd: a ring; nonzero with the inner run the other way: a ring
        ("rules.svg", 100 + 64 + 64),
        ("shown-or-not.svg", 64 + 40),
        # 10 x 10, 8 x 8, 5 x 8, 5 x 8, the triangle of the open path
        ("not-a-line.svg", 100 + 64 + 40 + 40 + 24),
        # four vertices, a square of 2 whose corner regions overlap nowhere
        ("arrows.svg", 16),
    ],
)
def test_areas_of_our_own_drawings(name: str, wanted: float) -> None:
    assert sum(map(area_mm2, drawing(name).join)) == pytest.approx(wanted, rel=1e-9)


def test_markers_turn_with_the_path() -> None:
    """The first bud is upright about 5, 5; the second halves a right turn, so it stands on its corner."""
    corners = sorted((bounds(region) for region in drawing("arrows.svg").join), key=lambda box: box.left)
    assert corners[0].width_mm == pytest.approx(2)
    assert corners[1].width_mm == pytest.approx(2 * math.sqrt(2))


def test_what_cannot_be_a_line_is_named() -> None:
    notes = drawing("not-a-line.svg").notes
    assert notes[0] == (
        'letters "Seed swap" and 1 more: lettering cannot be a cut line. '
        "Turn the letters into outlines in your drawing program and save again."
    )
    for part in (
        "image 1 is a picture, which cannot be a cut line",
        'rect "bed" is filled by a gradient, which cannot be a cut line',
        'rect "plot" is filled by a pattern, which cannot be a cut line',
        'rect "path" has a mask, which cannot be a cut line',
        'rect "edge" has a filter, which cannot be a cut line',
        'the drawing asks for "tools.svg#spade", another file, which is never opened.',
        'path "gate" is open by 10.00 mm; a straight line closes it.',
    ):
        assert any(note.startswith(part) for note in notes), part
    assert len(notes) == 8


def test_near_white_shapes_are_card_unless_they_cut() -> None:
    """A box behind all of it makes everything one plain box; with white as cuts a ring and a knob are left."""
    kept = drawing("white-window.svg")
    assert sum(map(area_mm2, kept.join)) == pytest.approx(400)
    assert [finding.code for finding in kept.findings] == ["white-box"]
    assert any(note.startswith('circle "pane" is near white and lies on top of others') for note in kept.notes)
    cut = drawing("white-window.svg", white="cuts")
    assert sum(map(area_mm2, cut.join)) == pytest.approx(math.pi * (81 - 25 + 4))
    assert cut.findings == ()
    assert cut.notes == ('circle "pane" is near white and was cut out of what lies below it.',)


def test_a_broken_path_is_refused_with_its_place_or_taken_up_to_it() -> None:
    with pytest.raises(InputError) as caught:
        drawing("broken-path.svg")
    assert str(caught.value) == (
        'broken-path.svg, path "leaf": character 31 of its d: "," stands where a number is needed. '
        "Repair it in a text editor, or take what stands before it with --lenient."
    )
    taken = drawing("broken-path.svg", lenient=True)
    assert sum(map(area_mm2, taken.join)) == pytest.approx(100 + 50)
    assert any("was taken up to character 31" in note for note in taken.notes)


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("use-bomb.svg", "use-bomb.svg: the drawing "),
        ("use-loop.svg", 'use-loop.svg: g "tendril" is used inside itself.'),
    ],
)
def test_loops_and_bombs_are_refused(name: str, said: str) -> None:
    with pytest.raises(InputError) as caught:
        drawing(name)
    assert str(caught.value).startswith(said)


def test_hidden_guides_still_count_and_are_never_card() -> None:
    text = (
        '<svg width="20mm" height="20mm" viewBox="0 0 20 20"><rect width="20" height="20"/>'
        '<g display="none"><line id="foot" x1="2" y1="20" x2="18" y2="20" stroke="red"/>'
        '<path id="axis" d="M10 20V0"/></g></svg>'
    )
    found = read_drawing(text.encode(), where="leaf.svg")
    assert (found.foot, found.axis) == ((2 + 0j, 18 + 0j), (10 + 0j, 10 + 20j))
    assert sum(map(area_mm2, found.join)) == pytest.approx(400)


def test_what_spills_over_the_page_is_kept_and_told() -> None:
    text = '<svg width="20mm" height="20mm" viewBox="0 0 20 20"><rect x="5" width="18.5" height="20"/></svg>'
    found = read_drawing(text.encode(), where="leaf.svg")
    assert sum(map(area_mm2, found.join)) == pytest.approx(370)
    assert found.notes == ("the drawing reaches 3.50 mm beyond its page at the right; all of it was taken.",)


def test_a_box_without_paint_is_no_motif() -> None:
    text = (
        '<svg width="20mm" height="20mm" viewBox="0 0 20 20"><rect width="20" height="20" fill="none"/>'
        '<circle cx="10" cy="10" r="4"/></svg>'
    )
    found = read_drawing(text.encode(), where="leaf.svg")
    assert sum(map(area_mm2, found.join)) == pytest.approx(16 * math.pi)
    assert found.findings == ()


def test_a_length_that_cannot_be_read_is_told() -> None:
    text = '<svg width="20mm" height="20mm"><rect width="1e400" height="5"/></svg>'
    with pytest.raises(InputError, match=r'be cut\. Rect 1: its width "1e400" is no length .*\. Draw a filled'):
        read_drawing(text.encode(), where="leaf.svg")


@pytest.mark.parametrize("name", ["a&#10;b", "&#x202e;leaf", "e\u0301\u4e2d\U0001f331", "x" * 300])
def test_odd_names_never_break_the_line(name: str) -> None:
    text = f'<svg width="20mm" height="20mm"><path id="{name}" d="M0 0L5 5L0 5&#10;&#x202e;q"/></svg>'
    with pytest.raises(InputError) as caught:
        read_drawing(text.encode(), where="leaf.svg")
    assert str(caught.value).isprintable()
    assert len(str(caught.value)) < 250
