"""A sheet that was cut from before, read from the file of its lines."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from frameforge.errors import FileError, InputError
from frameforge.geometry.measure import area_mm2, bounds
from frameforge.job.used_sheet import UsedSheet, read_used_sheet


def read(tmp_path: Path, body: str, page: str = 'width="300mm" height="200mm" viewBox="0 0 300 200"') -> UsedSheet:
    """Return the sheet of an SVG with ``body`` in it."""
    file = tmp_path / "off-cut.svg"
    file.write_text(f'<svg xmlns="http://www.w3.org/2000/svg" {page}>{body}</svg>', encoding="utf-8")
    return read_used_sheet(file, where="nest, --used")


def circle(x: float, y: float, r: float, fill: str = "none") -> str:
    return f'<circle cx="{x}" cy="{y}" r="{r}" fill="{fill}" stroke="#000"/>'


def test_what_lines_enclose_is_used_up_openings_too(tmp_path: Path) -> None:
    """A ring cut from the sheet took its opening along; y runs up from the sheet's lower edge."""
    used = read(tmp_path, circle(100, 50, 40) + circle(100, 50, 25))
    assert (used.size.name, used.size.width_mm, used.size.height_mm) == ("off-cut", 300, 200)
    (region,) = used.regions
    assert area_mm2(region) == pytest.approx(1600 * math.pi, rel=1e-6)
    assert bounds(region).center == pytest.approx(100 + 150j)
    assert used.area_mm2 == pytest.approx(60000 - 1600 * math.pi, rel=1e-6)


def test_separate_holes_stay_separate_and_overlapping_ones_are_one(tmp_path: Path) -> None:
    used = read(tmp_path, circle(50, 50, 20) + circle(60, 50, 20) + circle(200, 100, 30))
    assert len(used.regions) == 2


def test_the_edge_of_the_sheet_is_no_hole(tmp_path: Path) -> None:
    edge = '<rect x="0" y="0" width="300" height="200" fill="none" stroke="#000"/>'
    assert [round(area_mm2(r)) for r in read(tmp_path, edge + circle(50, 50, 20)).regions] == [1257]


def test_an_open_cut_is_a_hole_as_large_as_its_box(tmp_path: Path) -> None:
    used = read(tmp_path, '<path d="M 10 20 L 50 60" fill="none" stroke="#000"/>')
    (region,) = used.regions
    box = bounds(region)
    assert (box.left, box.bottom, box.right, box.top) == pytest.approx((9.9, 139.9, 50.1, 180.1))


def test_lines_to_crease_or_mark_take_nothing_away(tmp_path: Path) -> None:
    used = read(tmp_path, f'{circle(50, 50, 20)}<g id="mark">{circle(200, 100, 30)}</g>')
    assert len(used.regions) == 1


def test_a_file_that_is_no_sheet_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="states no page of a sheet's size"):
        read(tmp_path, circle(5, 5, 2), 'viewBox="0 0 300 200"')
    with pytest.raises(InputError, match="states no page of a sheet's size"):
        read(tmp_path, circle(5, 5, 2), 'width="10mm" height="10mm" viewBox="0 0 10 10"')
    with pytest.raises(FileError, match=r"rest\.svg: no such file\."):
        read_used_sheet(Path("rest.svg"), where="nest, --used")
    with pytest.raises(InputError, match=r'nest, --used: "rest\.dxf" is no SVG'):
        read_used_sheet(Path("rest.dxf"), where="nest, --used")
