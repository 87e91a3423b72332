"""Recipes out of the files that carry them, letter for letter."""

from __future__ import annotations

from pathlib import Path

import pytest
from fixtures.cut_pages import RECIPE, disc, page_of

from frameforge.errors import InputError
from frameforge.read.kept_recipe import kept_recipe
from frameforge.write.dxf import DXF_STYLES, DxfStyle, to_dxf
from frameforge.write.svg import to_svg

AWKWARD = 'name = "O\'Radish \\u00e9 \\U+00E9 ^J %%d <&> ]]>"\t# é 花 🌱 « »\n\n\n  x = 1   \n# ' + "y" * 999
PAGE = page_of(disc())


@pytest.mark.parametrize("recipe", [RECIPE, AWKWARD, "x = 1", "\n\n x"])
def test_an_svg_gives_its_recipe_back(recipe: str) -> None:
    assert kept_recipe(to_svg(PAGE, recipe=recipe).encode(), where="seal.svg") == recipe


@pytest.mark.parametrize("recipe", [RECIPE, AWKWARD, "x = 1", "\n\n x"])
@pytest.mark.parametrize("style", DXF_STYLES)
def test_every_dxf_gives_its_recipe_back(recipe: str, style: DxfStyle) -> None:
    assert kept_recipe(to_dxf(PAGE, recipe=recipe, style=style).encode(), where="seal.dxf") == recipe


def test_other_line_ends_and_a_byte_order_mark_do_not_matter() -> None:
    svg = b"\xef\xbb\xbf" + to_svg(PAGE, recipe=RECIPE).replace("\n", "\r\n").encode()
    dxf = to_dxf(PAGE, recipe=RECIPE).replace("\n", "\r\n").encode()
    assert kept_recipe(svg, where="x") == kept_recipe(dxf, where="x") == RECIPE


def test_an_svg_saved_again_with_prefixes_still_gives_it() -> None:
    from xml.etree import ElementTree

    root = ElementTree.fromstring(to_svg(PAGE, recipe=RECIPE))
    again = ElementTree.tostring(root)
    assert b"ns1:recipe" in again
    assert kept_recipe(again, where="x") == RECIPE


def test_a_dxf_saved_again_by_another_program_still_gives_it(tmp_path: Path) -> None:
    from ezdxf.filemanagement import readfile

    path = tmp_path / "seal.dxf"
    path.write_text(to_dxf(PAGE, recipe=AWKWARD), encoding="ascii")
    document = readfile(path)
    document.saveas(path)
    assert kept_recipe(path.read_bytes(), where="x") == AWKWARD


@pytest.mark.parametrize(
    "data",
    [
        to_svg(PAGE).encode(),
        to_dxf(PAGE).encode(),
        to_dxf(PAGE, style="r12").encode(),
        b'<svg xmlns="http://www.w3.org/2000/svg"><metadata><recipe>x</recipe></metadata></svg>',
        b"",
        b"hello",
        b"AutoCAD Binary DXF\r\n\x1a\0\x01\xff",
    ],
    ids=["own svg without", "own dxf without", "own r12 without", "another's recipe", "empty", "text", "binary"],
)
def test_files_without_a_recipe_are_said_so(data: bytes) -> None:
    with pytest.raises(InputError) as raised:
        kept_recipe(data, where="badge.svg")
    assert str(raised.value) == (
        "badge.svg: no recipe is kept in this file. Give a recipe (.toml), or an SVG or DXF that frameforge wrote."
    )


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"<svg", "not an SVG that can be read"),
        (b'<!DOCTYPE s [<!ENTITY a "aa">]><svg>&a;</svg>', "not an SVG that can be read"),
        (b'999\nfrontmatter\n999\nframeforge recipe "x = 1\n', "damaged"),
        (b"999\nframeforge recipe [1]\n", "damaged"),
        (b'999\nframeforge recipe "\xff"\n', "damaged"),
    ],
)
def test_broken_files_are_said_so(data: bytes, said: str) -> None:
    with pytest.raises(InputError, match=said):
        kept_recipe(data, where="badge")
