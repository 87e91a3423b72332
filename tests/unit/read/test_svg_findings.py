"""A painted box that fills the page behind a drawing is told, however drawn; one not painted is nothing."""

from __future__ import annotations

import pytest

from frameforge.geometry.measure import area_mm2
from frameforge.read.drawing import Drawing
from frameforge.read.svg import read_drawing

PAGE = 'width="20mm" height="20mm" viewBox="0 0 20 20"'
LEAF = '<circle id="leaf" cx="10" cy="12" r="5" fill="#567"/>'


def drawn(page: str, body: str, *, white_cuts: bool = False) -> Drawing:
    text = f'<svg xmlns="http://www.w3.org/2000/svg" {page}>{body}</svg>'
    return read_drawing(text.encode(), where="leaf.svg", white="cuts" if white_cuts else "keep")


def said(drawing: Drawing) -> list[str]:
    return [finding.say for finding in drawing.findings if finding.code == "white-box"]


@pytest.mark.parametrize(
    ("page", "box"),
    [
        (PAGE, '<rect width="20" height="20" fill="white"/>'),
        (PAGE, '<rect width="100%" height="100%" fill="#fdfdf8"/>'),
        (PAGE, '<rect x="-1" y="-1" width="22" height="22" fill="#FFF"/>'),
        (PAGE, '<path d="M0 0H20V20H0Z" fill="rgb(255,255,255)"/>'),
        (PAGE, '<path d="M0 0H10H20V20L0 20" fill="#ffffff"/>'),
        (PAGE, '<polygon points="0,0 20,0 20,20 0,20" style="fill:white"/>'),
        (PAGE, '<g transform="scale(2)"><rect width="10" height="10" fill="white"/></g>'),
        ('viewBox="-10 -10 40 30"', '<rect x="-10" y="-10" width="40" height="30" fill="white"/>'),
        ('width="60mm" height="20mm" viewBox="0 0 20 20"', '<rect width="20" height="20" fill="white"/>'),
        ('width="20mm" height="40mm" viewBox="0 0 20 20" preserveAspectRatio="xMidYMid slice"',
         '<rect x="5" width="10" height="20" fill="white"/>'),
        ('width="20" height="20"', '<rect width="20" height="20" fill="white"/>'),
        ("", '<rect width="20" height="20" fill="white"/>'),
    ],
)  # fmt: skip
def test_a_white_box_behind_it_all_is_told(page: str, box: str) -> None:
    kept = drawn(page, box + LEAF)
    (line,) = said(kept)
    assert line == (
        "it fills the whole page, so all the rest is lost in one plain box. "
        "Take it out of the drawing, or use --white cuts."
    )
    assert (kept.findings[0].severity, kept.findings[0].where[-2:]) == ("note", " 1")
    cut = drawn(page, box + LEAF, white_cuts=True)
    assert said(cut) == [], "the box is no card then"
    assert sum(map(area_mm2, cut.join)) < sum(map(area_mm2, kept.join)) / 2, "only the leaf is left"


@pytest.mark.parametrize("paint", ["#d2b888", "black", "green", "url(#sky)"])
def test_a_coloured_box_is_told_without_a_remedy_that_would_not_help(paint: str) -> None:
    sky = '<linearGradient id="sky"><stop stop-color="white"/></linearGradient>'
    body = f'{sky}<rect width="20" height="20" fill="{paint}"/>{LEAF}'
    (line,) = said(drawn(PAGE, body))
    assert line.endswith("Take it out of the drawing.")
    assert said(drawn(PAGE, body, white_cuts=True)) == [line]


def test_a_box_that_is_clipped_to_the_page_itself_still_fills_it() -> None:
    """As drawing programs write it: a group clipped by a box as large as the page."""
    clip = '<defs><clipPath id="c"><rect width="20" height="20" fill="white"/></clipPath></defs>'
    body = f'<g clip-path="url(#c)"><rect width="20" height="20" fill="white"/>{LEAF}</g>{clip}'
    assert len(said(drawn(PAGE, body))) == 1
    smaller = body.replace('id="c"><rect width="20" height="20"', 'id="c"><rect x="2" width="9" height="20"')
    assert said(drawn(PAGE, smaller)) == []
    round_clip = body.replace('id="c"><rect width="20" height="20" fill="white"/>', 'id="c"><circle r="40"/>')
    assert said(drawn(PAGE, round_clip)) == []


@pytest.mark.parametrize(
    "box",
    [
        '<rect width="20" height="20" fill="none"/>',
        '<path d="M0 0h20v20H0z" fill="none" stroke="none"/>',
        '<rect width="20" height="20" fill="transparent"/>',
        '<rect width="20" height="20" fill-opacity="0"/>',
        '<rect width="20" height="20" style="display:none"/>',
        '<rect width="20" height="20" visibility="hidden"/>',
    ],
)
def test_a_box_that_is_not_painted_is_no_part_of_the_motif(box: str) -> None:
    kept = drawn(PAGE, box + LEAF)
    assert kept.findings == ()
    assert sum(map(area_mm2, kept.join)) == pytest.approx(3.141592653589793 * 25)


@pytest.mark.parametrize(
    "body",
    [
        '<rect width="20" height="20" fill="white"/>',
        LEAF,
        '<rect width="20" height="19" fill="white"/>' + LEAF,
        '<rect width="20" height="20" rx="3" fill="white"/>' + LEAF,
        '<circle cx="10" cy="10" r="20" fill="white"/>' + LEAF,
        '<g id="window"><rect width="20" height="20" fill="white"/></g>' + LEAF,
    ],
)
def test_what_is_no_box_behind_it_all_is_not_told(body: str) -> None:
    assert said(drawn(PAGE, body)) == []
