"""Whatever is written reads back: random outlines of lines, circular and elliptical arcs and cubics, of any size."""

from __future__ import annotations

import cmath
import math

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from frameforge.geometry.affine import Affine
from frameforge.geometry.arc import Arc
from frameforge.geometry.cubic import Cubic
from frameforge.geometry.line import Line
from frameforge.geometry.measure import area_mm2
from frameforge.geometry.outline import Outline, Segment
from frameforge.geometry.region import Region
from frameforge.read.kept_recipe import kept_recipe
from frameforge.tolerances import FILES_AGREE_MM
from frameforge.write.check_dxf import check_dxf
from frameforge.write.check_svg import check_svg
from frameforge.write.curve_set import CurveSet
from frameforge.write.dxf import DXF_STYLES, DxfStyle, to_dxf
from frameforge.write.dxf_place import DxfUnit
from frameforge.write.dxf_text import read_dxf
from frameforge.write.page import CutPage, CutPiece
from frameforge.write.svg import to_svg
from frameforge.write.svg_text import read_path


def floats(low: float, high: float) -> st.SearchStrategy[float]:
    """Finite numbers of a range."""
    return st.floats(low, high, allow_nan=False, allow_infinity=False)


@st.composite
def segments(draw: st.DrawFn, a: complex, b: complex) -> Segment:
    """A line, an arc (flat, round or more than half a circle) or a cubic from a to b."""
    kind = draw(st.sampled_from("LAC"))
    way = b - a
    if kind == "A":
        bulge = draw(st.one_of(floats(-2, 2), floats(-1e-3, 1e-3), st.sampled_from([1.0, -1.0])))
        return Arc.from_bulge(a, b, bulge) if abs(bulge) > 1e-7 else Line(a, b)
    if kind == "C":
        handles = [complex(draw(floats(-0.2, 0.8)), draw(floats(-1, 1))) for _ in range(2)]
        return Cubic(a, a + way * handles[0], b - way * handles[1], b)
    return Line(a, b)


@st.composite
def outlines(draw: st.DrawFn) -> Outline:
    """A closed chain of 2 to 8 segments, some joints very close, 0.01 to 500 mm, turned, squeezed or sheared."""
    size = 10 ** draw(floats(-2, 2.7))
    count = draw(st.integers(2, 8))
    radii = draw(st.lists(floats(0.3, 1), min_size=count, max_size=count))
    shifts = draw(st.lists(floats(-0.3, 0.3), min_size=count, max_size=count))
    joints = [
        cmath.rect(size * r, math.tau * (k + q) / count) for k, (r, q) in enumerate(zip(radii, shifts, strict=True))
    ]
    if draw(st.integers(0, 4)) == 0:
        joints[0] = joints[-1] + cmath.rect(10 ** draw(floats(-6, -2)), draw(floats(0, 6)))
    chain = [draw(segments(a, b)) for a, b in zip(joints, joints[1:] + joints[:1], strict=True)]
    outline = Outline(tuple(chain))
    turn = Affine.from_turn(draw(floats(0, 6.3)))
    squeeze = draw(st.sampled_from([(1, 0, 1), (1, 0, 0.5), (1, 0.7, 1), (1, 0.3, 0.05), (3, 0, 1)]))
    skew = Affine.from_matrix(squeeze[0], squeeze[1], 0, squeeze[2], draw(floats(-50, 50)), 7)
    outline = outline.transformed(turn.after(skew) if draw(st.booleans()) else skew)
    area = area_mm2(outline)
    assume(abs(area) > 1e-3 * size)
    return outline if area > 0 else outline.reversed()


@st.composite
def pages(draw: st.DrawFn) -> CutPage:
    """One or two pieces beside each other; a piece may have a smaller copy of itself as its hole."""
    pieces = []
    at = 0.0
    for k in range(draw(st.integers(1, 2))):
        outer = draw(outlines()).transformed(Affine.from_move(at))
        hole = outer.transformed(Affine.from_scale(0.01, about=outer.segments[0].start + 0.1)).reversed()
        holes = (hole,) if draw(st.booleans()) and abs(area_mm2(hole)) > 1e-2 else ()
        pieces.append(CutPiece(f"piece {k}", Region(outer, holes)))
        at += 300
    return CutPage("random", tuple(pieces))


@settings(max_examples=150)
@given(pages(), st.booleans())
def test_svg_reads_back_within_two_ten_thousandths(page: CutPage, one_path: bool) -> None:
    assert check_svg(to_svg(page, one_path=one_path), page, one_path=one_path) == ()


@settings(max_examples=60)
@given(pages(), st.sampled_from(DXF_STYLES), st.sampled_from(["mm", "in"]))
def test_dxf_reads_back_within_its_stated_distance(page: CutPage, style: DxfStyle, unit: DxfUnit) -> None:
    assert check_dxf(to_dxf(page, style=style, unit=unit), page, style=style, unit=unit) == ()


@settings(max_examples=25)
@given(outlines(), st.sampled_from(DXF_STYLES))
def test_svg_and_dxf_agree(outline: Outline, style: DxfStyle) -> None:
    page = CutPage("random", (CutPiece("piece", Region(outline)),))
    height_mm = page.box.height_mm
    d = to_svg(page).partition('<path d="')[2].partition('"')[0]
    svg = CurveSet.from_runs([run for run, _ in read_path(d, height_mm)])
    dxf = CurveSet.from_runs([entity.run for entity in read_dxf(to_dxf(page, style=style)).entities])
    for these, those in ((svg, dxf), (dxf, svg)):
        assert those.far_point(these.samples(), these.stations, FILES_AGREE_MM) is None


# What TOML allows in a text: no control signs but tab and line feed (TOML 1.0, "String" and "Comment").
RECIPES = st.text(st.characters(exclude_categories=["Cs", "Cc"], include_characters="\t\n"), min_size=1, max_size=300)
DISC = CutPage("disc", (CutPiece("disc", Region(Outline((Arc.from_circle(0, 9, 0, math.tau),)))),))


@settings(max_examples=60)
@given(RECIPES.filter(lambda text: not set(text) & {"\ufffe", "\uffff"}), st.sampled_from(DXF_STYLES))
def test_any_recipe_comes_back_letter_for_letter(recipe: str, style: DxfStyle) -> None:
    svg, dxf = to_svg(DISC, recipe=recipe), to_dxf(DISC, recipe=recipe, style=style)
    assert kept_recipe(svg.encode("utf-8"), where="x") == recipe
    assert kept_recipe(dxf.encode("ascii"), where="x") == recipe
    assert check_svg(svg, DISC, recipe=recipe) == ()
    assert check_dxf(dxf, DISC, recipe=recipe, style=style) == ()


@settings(max_examples=60)
@given(st.integers(3, 12), st.integers(0, 11), floats(0.003, 0.05), floats(-1.2, 1.2), floats(1, 300))
def test_a_corner_out_of_place_never_passes(count: int, at: int, off_mm: float, turn_rad: float, size: float) -> None:
    """The text of a polygon is compared with the page of one that has a corner pushed outward or inward."""
    corners = [cmath.rect(size, math.tau * k / count) for k in range(count)]
    moved = list(corners)
    moved[at % count] += off_mm * cmath.rect(1, turn_rad) * corners[at % count] / size
    true, false = (
        CutPage("x", (CutPiece("x", Region(Outline.from_points(points))),), 700, 700) for points in (corners, moved)
    )
    text = to_svg(true)
    assert check_svg(text, true) == ()
    assert any("from the other" in line for line in check_svg(text, false))
