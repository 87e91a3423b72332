"""All files of one page."""

from __future__ import annotations

import pytest
from fixtures.cut_pages import RECIPE, page_of, ring, tent

from frameforge.write.cut_files import FileOptions, cut_data, cut_files
from frameforge.write.dxf import to_dxf
from frameforge.write.svg import to_svg


def test_a_piece_of_cuts_is_two_files() -> None:
    svg, dxf = cut_files(page_of(ring()), "seal", recipe=RECIPE)
    assert (svg.name, dxf.name) == ("seal.svg", "seal.dxf")
    assert svg.data.decode() == to_svg(page_of(ring()), recipe=RECIPE)
    assert dxf.data.decode() == to_dxf(page_of(ring()), recipe=RECIPE)


def test_each_kind_of_line_gets_a_file_where_there_are_several() -> None:
    files = {file.name: file.data for file in cut_files(tent(), "tent")}
    assert list(files) == ["tent.svg", "tent.cut.svg", "tent.crease.svg", "tent.mark.svg", "tent.dxf"]
    assert b'id="crease"' in files["tent.crease.svg"]
    assert b'id="cut"' not in files["tent.crease.svg"]


def test_one_file_leaves_them_out() -> None:
    assert [f.name for f in cut_files(tent(), "tent", FileOptions(split_kinds=False))] == ["tent.svg", "tent.dxf"]


def test_formats_style_and_unit_are_as_asked() -> None:
    options = FileOptions(formats=("dxf",), dxf="splines", dxf_unit="in")
    (dxf,) = cut_files(page_of(ring()), "seal", options)
    assert dxf.data.decode() == to_dxf(page_of(ring()), style="splines", unit="in")


def test_one_kind_of_file_is_the_same_alone() -> None:
    files = {file.name: file.data for file in cut_files(tent(), "tent", recipe=RECIPE)}
    alone = {f"tent.{kind}": cut_data(kind, tent(), FileOptions(), recipe=RECIPE) for kind in ("crease.svg", "dxf")}
    assert alone.items() <= files.items()


@pytest.mark.parametrize("kind", ["png", "fold.svg", ""])
def test_what_is_no_cut_file_is_never_written_as_another(kind: str) -> None:
    with pytest.raises(KeyError):
        cut_data(kind, page_of(ring()), FileOptions())
