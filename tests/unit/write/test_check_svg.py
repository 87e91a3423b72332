"""The check of written SVG finds nothing in what we write, and each fault that is planted."""

from __future__ import annotations

import re

import pytest
from fixtures.cut_pages import RECIPE, arcs_page, every_page, leaf_frame, lines_page, page_of, ring, sheet, tent

from frameforge.write.check_svg import check_svg
from frameforge.write.page import CutPage
from frameforge.write.svg import to_svg


@pytest.mark.parametrize("name", every_page())
@pytest.mark.parametrize("one_path", [False, True])
def test_what_we_write_is_good(name: str, one_path: bool) -> None:
    page = every_page()[name]
    text = to_svg(page, recipe=RECIPE, one_path=one_path)
    assert check_svg(text, page, recipe=RECIPE, one_path=one_path) == ()


def test_a_single_kind_is_good_too() -> None:
    for kind in tent().kinds():
        assert check_svg(to_svg(tent(), kinds=[kind]), tent(), kinds=[kind]) == ()


PLATE = "M20.5,25.5 L20.5,15.5 L40.5,15.5 L40.5,25.5 Z M0.5,40.5 L60.5,40.5 L60.5,0.5 L0.5,0.5 Z"

FAULTS = {
    "no XML": ("</svg>", "", "well-formed"),
    "another root": ('<svg height="41mm"', '<svg height="41mm" class="x"', "attribute class is not allowed"),
    "another size": ('width="61mm"', 'width="61"', "not those of the viewBox"),
    "another page": ('viewBox="0 0 61 41" width="61mm"', 'viewBox="0 0 62 41" width="62mm"', "the page is 61.0000"),
    "a view box off 0": ('viewBox="0 0 61 41"', 'viewBox="1 0 61 41"', "does not begin at 0 0"),
    "another title": ("<title>plate", "<title>Plate", "title is not 'plate'"),
    "another recipe": ("size = 58.4", "size = 58.5", "recipe kept inside"),
    "a comment": ("<title>", "<!-- hello --><title>", "a comment"),
    "an unknown element": ("</g>", '<circle r="5" /></g>', "an element"),
    "a transform": ('id="cut"', 'id="cut" transform="scale(2)"', "attribute transform is not allowed"),
    "a fill": ('fill="none"', 'fill="#000000"', "painted"),
    "no line width": (' stroke-width="0.1"', "", "attribute stroke-width is missing"),
    "another group": ('id="cut"', 'id="CUT"', "groups ['CUT']"),
    "two groups": ("</g>", '</g><g id="cut" />', "groups ['cut', 'cut']"),
    "an empty group": (f'<path d="{PLATE}" fill="none" stroke="#000000" stroke-width="0.1" />', "", "0 paths for 1"),
    "an empty path": (PLATE, "", "an empty path"),
    "a relative letter": ("L20.5,15.5", "l0,-10", "plain numbers"),
    "five decimals": ("L20.5,15.5", "L20.50001,15.5", "four decimals"),
    "an open outline": ("L40.5,25.5 Z", "L40.5,25.5 L20.5,25.5", "is not closed"),
    "a spike": ("L60.5,40.5", "L60.5,40.5 L70.5,40.5 L60.5,40.5", "runs back over itself"),
    "a line of no length": ("L60.5,40.5", "L60.5,40.5 L60.5,40.5", "has no length"),
    "the outside first": (PLATE, " Z ".join(reversed(PLATE[:-2].split(" Z "))) + " Z", "holes first"),
    "a hole turned round": (
        "M20.5,25.5 L20.5,15.5 L40.5,15.5 L40.5,25.5 Z",
        "M20.5,25.5 L40.5,25.5 L40.5,15.5 L20.5,15.5 Z",
        "holes first",
    ),
    "a corner moved": ("L40.5,15.5", "L40.5003,15.5", "0.000300 mm from the other"),
    "a lost hole": ("M20.5,25.5 L20.5,15.5 L40.5,15.5 L40.5,25.5 Z ", "", "1 lines, the page has 2"),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_planted_faults_are_found(fault: str) -> None:
    old, new, said = FAULTS[fault]
    text = to_svg(lines_page(), recipe=RECIPE)
    assert old in text
    found = check_svg(text.replace(old, new, 1), lines_page(), recipe=RECIPE)
    assert any(said in line for line in found), found


def test_any_change_breaks_the_marker() -> None:
    text = to_svg(lines_page())
    assert check_svg(text.replace("\n</svg>", "\n\n</svg>"), lines_page()) == (
        "the marker does not agree with the text",
    )


def test_a_curve_slightly_off_is_found() -> None:
    """Each radius, and each joint along its radius, is changed by 2e-3 mm in turn."""
    page = page_of(ring(20, 12))
    text = to_svg(page)
    start = text.index(' d="') + 4
    numbers = [m for m in re.finditer(r"\d+(?:\.\d+)?", text) if start < m.start() < text.index('" fill')]
    for number in numbers:
        if number[0] in ("0", "1", "20.5"):  # flags, and the coordinates of the centre: a move along the circle
            continue
        changed = text[: number.start()] + f"{float(number[0]) + 2e-3:.4f}".rstrip("0") + text[number.end() :]
        assert len(check_svg(changed, page)) > 1, number


def test_a_circle_of_cubics_is_not_the_circle() -> None:
    """The usual four cubics lie 0.0136 mm outside a circle of 50 mm."""
    page = page_of(ring(50, 42))
    text = to_svg(page)
    k = 27.6142
    cubic = f"C100.5,{50.5 - k:.4f} {50.5 + k:.4f},0.5 50.5,0.5"
    changed = text.replace("A50,50 0 0 0 50.5,0.5", cubic, 1)
    assert changed != text
    assert any("from the other" in line for line in check_svg(changed, page))


def test_an_arc_of_more_than_a_quarter_is_found() -> None:
    page = arcs_page(4)
    text = re.sub(r"A30,30 0 0 1 \S+ A30,30 0 0 1 (\S+)", r"A30,30 0 0 1 \1", to_svg(page), count=1)
    assert any("180.00 deg, 90 allowed" in line for line in check_svg(text, page))


def test_pieces_in_another_order_are_found() -> None:
    page = sheet()
    turned = CutPage(page.title, page.pieces[::-1], page.width_mm, page.height_mm)
    assert check_svg(to_svg(page), turned) != ()


def test_many_segments_are_checked_in_reasonable_time() -> None:
    page = page_of(leaf_frame(240))
    assert check_svg(to_svg(page), page) == ()
