"""The SVG document around the paths: what stands in it, and nothing else."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest
from fixtures.cut_pages import RECIPE, disc, leaf_frame, page_of, sheet, tent

from frameforge.write.marker import is_marked
from frameforge.write.page import CutPage, CutPiece
from frameforge.write.svg import to_svg

SVG = "{http://www.w3.org/2000/svg}"


def test_the_whole_text_of_a_small_page() -> None:
    text = to_svg(page_of(disc(10), "dot"))
    head, _, rest = text.partition("<metadata>")
    assert head == (
        '<?xml version="1.0" encoding="UTF-8"?>\n<svg height="21mm" version="1.1" viewBox="0 0 21 21" width="21mm" '
        'xmlns="http://www.w3.org/2000/svg">\n<title>dot</title>\n'
    )
    assert rest.partition("</metadata>")[2] == (
        '\n<g id="cut">\n<path d="M20.5,10.5 A10,10 0 0 0 10.5,0.5 A10,10 0 0 0 0.5,10.5 A10,10 0 0 0 10.5,20.5 '
        'A10,10 0 0 0 20.5,10.5 Z" fill="none" stroke="#000000" stroke-width="0.1" />\n</g>\n</svg>\n'
    )


def test_each_piece_is_one_path_and_one_path_joins_them() -> None:
    root = ElementTree.fromstring(to_svg(sheet()))
    assert len(root.findall(f"{SVG}g/{SVG}path")) == 3
    joined = ElementTree.fromstring(to_svg(sheet(), one_path=True)).findall(f"{SVG}g/{SVG}path")
    assert [path.get("d", "").count("Z") for path in joined] == [5]


def test_kinds_stand_in_groups_in_their_order() -> None:
    root = ElementTree.fromstring(to_svg(tent()))
    assert [group.get("id") for group in root.findall(f"{SVG}g")] == ["cut", "crease", "mark"]


def test_one_kind_by_itself_lies_on_the_same_page() -> None:
    whole, crease = (ElementTree.fromstring(t) for t in (to_svg(tent()), to_svg(tent(), kinds=["crease"])))
    assert [group.get("id") for group in crease.findall(f"{SVG}g")] == ["crease"]
    assert crease.get("viewBox") == whole.get("viewBox")
    assert crease.find(f"{SVG}g/{SVG}path").get("d") == whole.findall(f"{SVG}g/{SVG}path")[1].get("d")  # type: ignore[union-attr]


def test_the_recipe_and_a_title_with_any_signs_come_back() -> None:
    title = 'Ada & <Bea> "O\'Radish" é 花'
    page = CutPage(title, (CutPiece("x", disc()),))
    root = ElementTree.fromstring(to_svg(page, recipe=RECIPE + "# <&> é 花 ]]>\n"))
    assert root.findtext(f"{SVG}title") == title
    assert root.findtext(".//{urn:frameforge:kept}recipe") == RECIPE + "# <&> é 花 ]]>\n"


def test_a_recipe_with_a_sign_xml_cannot_carry_is_refused() -> None:
    with pytest.raises(ValueError, match=r"U\+0007"):
        to_svg(page_of(disc()), recipe='name = "\a"')


def test_same_page_same_text_and_it_is_marked() -> None:
    text = to_svg(page_of(leaf_frame()), recipe=RECIPE)
    assert text == to_svg(page_of(leaf_frame()), recipe=RECIPE)
    assert is_marked(text.encode())


def test_a_curve_stays_a_curve() -> None:
    """288 cubics, 24 arcs of the edge, the opening in 4 quarters: no more segments than that."""
    text = to_svg(page_of(leaf_frame()))
    assert (text.count(" C"), text.count(" A"), text.count(" L")) == (288, 28, 0)
    assert len(text) < 16_500
