"""Guides looked at from outside: the PDF read back by pypdf, rendered by pdftoppm (poppler) and measured.

1 mm is 72/25.4 points (PDF 32000-1:2008, 8.3.2.3): 100 mm are 283.465 pt. Foot marks against chord geometry.
"""

from __future__ import annotations

import cmath
import math
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from pypdf import PdfReader
from pypdf.generic import ContentStream

from frameforge.job.guide import guide
from frameforge.job.guide_order import GuideOrder

PT = 72 / 25.4
Line = tuple[complex, complex]


def _lines(pdf: Path, page: int = 0) -> Iterator[Line]:
    """Yield the straight lines of a page in mm from its lower left corner."""
    reader = PdfReader(pdf)
    content = ContentStream(reader.pages[page].get_contents(), reader)
    at = 0j
    for operands, operator in content.operations:
        if operator in (b"m", b"l"):
            to = complex(float(operands[0]), float(operands[1])) / PT
            if operator == b"l":
                yield at, to
            at = to
        elif operator == b"c":
            at = complex(float(operands[4]), float(operands[5])) / PT


def _made(out: Path, **options: object) -> tuple[Path, int]:
    """Return the guide of some options, and how many pages it has."""
    motif = options.pop("motif", None)
    given = {**options, **({"motif": (motif,)} if motif else {})}
    made = guide(GuideOrder(None, given, out))
    (name,) = made.files
    return made.out / name, sum(made.pages)


def test_the_bar_is_283_465_points_long(tmp_path: Path) -> None:
    pdf, _ = _made(tmp_path, foot="20", size="100mm", count="14")
    bars = [line for line in _lines(pdf) if abs(line[0].imag - line[1].imag) < 1e-6]
    inches = max(bars, key=lambda line: abs(line[1] - line[0]) if line[0].real < 11 else 0.0)
    ticks = sorted(
        {
            round(a.real, 4)
            for a, b in _lines(pdf)
            if abs(a.real - b.real) < 1e-6 and abs(a.imag - inches[0].imag) < 1e-6
        }
    )
    tens = [tick for tick in ticks if abs((tick - ticks[0]) / 10 - round((tick - ticks[0]) / 10)) < 1e-4]
    assert (tens[-1] - tens[0]) * PT == pytest.approx(283.465, abs=5e-3)
    assert len(tens) == 11
    assert abs(inches[1] - inches[0]) == pytest.approx(4 * 25.4, abs=1e-3)


def test_the_bar_measures_100_mm_on_the_rendered_page(tmp_path: Path) -> None:
    if shutil.which("pdftoppm") is None:
        pytest.skip("pdftoppm is not there (apt install poppler-utils)")
    pdf, _ = _made(tmp_path, foot="20", size="100mm", count="14")
    (bar,) = [
        line
        for line in _lines(pdf)
        if abs(line[0].imag - line[1].imag) < 1e-6 and abs(abs(line[1] - line[0]) - 101.6) < 1e-3
    ]
    dpi, height_mm = 600, 297.0
    # A strip 1.2 mm above the bar cuts the ticks of the tens, which are 1.6 mm high.
    top = round((height_mm - bar[0].imag - 1.2) / 25.4 * dpi)
    command = ["pdftoppm", "-r", str(dpi), "-gray", "-y", str(top), "-H", "4", "-x", "0", "-W", "4961"]
    subprocess.run([*command, str(pdf), str(tmp_path / "bar")], check=True, timeout=60)
    (picture,) = tmp_path.glob("bar*.pgm")
    row = np.asarray(Image.open(picture)).min(axis=0) < 128
    starts = np.flatnonzero(row[1:] & ~row[:-1]) + 1
    ends = np.flatnonzero(~row[1:] & row[:-1]) + 1
    middles = (starts + ends - 1) / 2 / dpi * 25.4
    assert len(middles) == 11
    assert middles[-1] - middles[0] == pytest.approx(100.0, abs=0.1)
    assert np.diff(middles) == pytest.approx(np.full(10, 10.0), abs=0.1)


@pytest.mark.parametrize(("size", "foot", "count"), [(100.0, 20.0, 14), (62.048, 20.0, 8), (140.0, 9.5, 31)])
def test_foot_marks_stand_where_chord_geometry_puts_them(tmp_path: Path, size: float, foot: float, count: int) -> None:
    """Both foot ends on the circle, w apart, middles at 360 k/n: half angle asin(w/D)."""
    pdf, made = _made(tmp_path, foot=f"{foot}mm", size=f"{size}mm", count=str(count))
    assert made == 1
    lines = list(_lines(pdf))
    # Foot marks are the lines 5 mm long, across the edge.
    marks = [(a + b) / 2 for a, b in lines if abs(abs(b - a) - 5) < 1e-3]
    half = math.asin(foot / size)
    turns = [math.tau * k / count + side * half for k in range(count) for side in (-1, 1)]
    wanted = [size / 2 * cmath.rect(1, math.pi / 2 - turn) for turn in turns]
    middle = sum(marks) / len(marks)
    assert len(marks) == 2 * count
    for point in wanted:
        assert min(abs(mark - middle - point) for mark in marks) < 2e-3


def test_on_an_oval_the_lines_are_normals_and_no_spokes(tmp_path: Path) -> None:
    """The normal of x^2/a^2 + y^2/b^2 = 1 at (x, y) is (x/a^2, y/b^2); feet 10 mm wide stand across it."""
    pdf, made = _made(tmp_path, foot="10", size="120x70mm", count="18", spread="equal-arc")
    assert made == 1
    lines = list(_lines(pdf))
    feet = [
        line for line in lines if abs(abs(line[1] - line[0]) - 10) < 2e-3 and abs(line[0].imag - line[1].imag) < 9.999
    ]
    ticks = [line for line in lines if abs(abs(line[1] - line[0]) - 5) < 1e-3]
    middle = sum((a + b) / 2 for a, b in ticks) / len(ticks)
    a2, b2 = 60.0**2, 35.0**2
    checked = 0
    for start, end in feet:
        left, right = start - middle, end - middle
        if any(abs((z.real**2 / a2 + z.imag**2 / b2) - 1) > 1e-3 for z in (left, right)):
            continue
        along = (right - left) / abs(right - left)
        # The point of the oval whose tangent is parallel to the foot.
        t = (
            math.atan2(60 * (along * -1j).imag * 35 / 60, 0)
            if False
            else math.atan2(35 * (1j * along).imag, 60 * (1j * along).real)
        )
        point = complex(60 * math.cos(t), 35 * math.sin(t))
        normal = complex(point.real / a2, point.imag / b2)
        assert abs((normal / abs(normal) * along.conjugate()).real) < 1e-4
        # Its line goes through the middle of the foot, along that normal.
        own = [
            (s, e)
            for s, e in lines
            if abs(e - s) > 12
            and abs(((e - s) / abs(e - s) * along.conjugate()).real) < 1e-4
            and abs((((left + right) / 2 + middle - s) * along.conjugate()).real) < 2e-3
        ]
        assert own
        checked += 1
    assert checked == 18


def test_a_large_guide_is_parted_by_the_formula(tmp_path: Path) -> None:
    """ceil((W - o)/(p - o)): 300 mm on 190 x 277 with 10 mm: 2 x 2."""
    pdf, made = _made(tmp_path, motif="arch", size="300mm", opening="200mm")
    assert made == 4
    reader = PdfReader(pdf)
    assert [tuple(round(float(v) / PT, 3) for v in page.mediabox[2:]) for page in reader.pages] == [(210, 297)] * 4
    assert "page 4 of 4" in reader.pages[3].extract_text()
    assert "100 mm" in "".join(page.extract_text() for page in reader.pages)
    assert reader.viewer_preferences is not None
    assert str(reader.viewer_preferences.print_scaling) == "/None"
