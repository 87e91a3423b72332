"""SVG cut files read as lines: strokes are followed, not widened."""

from __future__ import annotations

import math

import pytest

from frameforge.errors import InputError
from frameforge.geometry.measure import bounds, length_mm
from frameforge.read.cut_drawing import CutDrawing
from frameforge.read.cut_svg import read_cut_svg


def _read(body: str, size: str = 'width="100mm" height="50mm" viewBox="0 0 100 50"') -> CutDrawing:
    text = f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{body}</svg>'
    return read_cut_svg(text.encode(), where="piece.svg")


def test_a_stroke_is_one_line_and_not_its_two_edges() -> None:
    (line,) = _read('<circle cx="20" cy="20" r="10" fill="none" stroke="red" stroke-width="4"/>').lines
    assert line.is_closed
    assert length_mm(line.segments) == pytest.approx(20 * math.pi)
    assert bounds(line.segments).center == pytest.approx(20 + 30j)


def test_holes_and_transforms_are_followed() -> None:
    lines = _read('<g transform="translate(10 5) scale(2)"><path d="M0 0H10V10H0ZM2 2V8H8V2Z"/></g>').lines
    assert [length_mm(line.segments) for line in lines] == pytest.approx([80, 48])


def test_pieces_of_an_outline_are_joined() -> None:
    (line,) = _read('<g fill="none" stroke="#000"><path d="M0 0L10 0"/><path d="M0 0.003L5 8L10 0"/></g>').lines
    assert line.is_closed


def test_crease_and_mark_lines_are_left_aside() -> None:
    drawing = _read(
        '<g id="cut"><path d="M0 0H9V9Z"/></g><g id="crease"><path d="M0 4H9"/></g><g id="mark"><path d="M1 1H2"/></g>'
    )
    assert (len(drawing.lines), drawing.other_lines) == (1, 2)


def test_a_shape_that_nobody_sees_is_noted() -> None:
    drawing = _read('<path id="ghost" d="M0 0H9V9Z" fill="none"/><path d="M0 0H9V9Z"/>')
    assert len(drawing.lines) == 1
    assert any("nobody sees it" in note for note in drawing.notes)


@pytest.mark.parametrize(("size", "stated"), [('width="100mm" height="50mm"', True), ('viewBox="0 0 9 9"', False)])
def test_a_size_is_stated_or_not(size: str, stated: bool) -> None:
    assert _read('<path d="M0 0H9V9Z"/>', size).has_size is stated


@pytest.mark.parametrize("text", ["", "<svg", "<html/>", '<svg xmlns="http://www.w3.org/2000/svg"/>'])
def test_what_holds_no_line_is_refused(text: str) -> None:
    with pytest.raises(InputError, match=r"^piece\.svg: "):
        read_cut_svg(text.encode(), where="piece.svg")


@pytest.mark.parametrize("shape", ['<path d="M0 0 L9 9 xx"/>', '<rect width="9" height="9" transform="turn(5)"/>'])
def test_a_broken_line_is_refused_without_an_offer_that_only_motifs_take(shape: str) -> None:
    data = f'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm">{shape}</svg>'.encode()
    with pytest.raises(InputError, match=r"or save the drawing again\.$") as refused:
        read_cut_svg(data, where="piece.svg")
    assert "--lenient" not in str(refused.value)
