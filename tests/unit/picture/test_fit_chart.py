"""The fit chart: every word on the page, columns apart, the chosen cell marked, hatching where it is hard to hold."""

from __future__ import annotations

import re
from typing import Any

import pytest
import svgpathtools
from fixtures.raster import colour_at, raster
from lxml import etree

from frameforge.geometry.region import Region
from frameforge.geometry.shapes import rectangle
from frameforge.picture.fit_chart import ChartCell, ChartRow, ChartTable, FitChart, fit_chart
from frameforge.picture.letter_widths import text_width
from frameforge.picture.look import BENCH, DEW, MARROW_FLOWER

SVG = "{http://www.w3.org/2000/svg}"
BAR = Region(rectangle(-8, 0, 8, 10))


def _row(size: str, count: str, gap: str, **more: Any) -> ChartRow:
    chosen = more.pop("is_chosen", False)
    cells = (ChartCell(size, "3.94 in", is_bold=True), ChartCell(count, is_chosen=chosen, is_bold=True), ChartCell(gap))
    return ChartRow(cells, **more)


ROWS = (
    _row("55 mm", "8", "3.09", note="hard to hold", is_hatched=True),
    _row("100 mm", "17", "2.41", is_chosen=True),
    _row("1000 mm", "171", "2.01"),
)
TABLE = ChartTable((ChartCell("size"), ChartCell("go round"), ChartCell("gap mm")), ROWS)


def _chart(**more: Any) -> FitChart:
    given = {
        "title": "How many bars go round, gaps of 2 mm or more",
        "lines": ("bar, foot 16 mm (5/8 in)",),
        "tables": (TABLE,),
        "legend": ("Hatched: hard to hold.",),
        "motif": (BAR,),
        "foot_mm": 16.0,
    }
    return FitChart(**{**given, **more})


def _texts(svg: str) -> list[tuple[str, float, float, float]]:
    """Return every text with its left end, right end and baseline."""
    found = []
    for element in etree.fromstring(svg.encode()).iter(SVG + "text"):
        size, is_bold = float(element.get("font-size")), element.get("font-weight") == "700"
        width, x = text_width(element.text, size, is_bold=is_bold), float(element.get("x"))
        left = {"start": x, "middle": x - width / 2, "end": x - width}[element.get("text-anchor")]
        found.append((element.text, left, left + width, float(element.get("y"))))
    return found


def _page(svg: str) -> tuple[float, float]:
    root = etree.fromstring(svg.encode())
    return float(root.get("width")), float(root.get("height"))


@pytest.mark.parametrize(
    "more",
    [
        {},
        {"title": "How many " + "very-long-named-ornament " * 9 + "go round", "lines": ("word " * 60,)},
        {"tables": (TABLE, ChartTable(TABLE.headings, ROWS[:1], "Counts in whole degrees")), "legend": ()},
        {"motif": (Region(rectangle(-150, -40, 150, 200)),), "foot_mm": None},
        {"motif": (Region(rectangle(-10, 0, 10, 0.2)),)},
    ],
)
def test_every_word_stands_on_the_page_and_on_no_other(more: dict[str, Any]) -> None:
    svg = fit_chart(_chart(**more))
    width, height = _page(svg)
    texts = _texts(svg)
    assert width >= 620
    for words, left, right, baseline in texts:
        assert 0 <= left < right <= width - 20, words
        assert 10 < baseline < height - 10, words
    for k, (words, left, right, baseline) in enumerate(texts):
        for other, left2, right2, baseline2 in texts[k + 1 :]:
            is_apart = right <= left2 or right2 <= left or abs(baseline - baseline2) >= 12
            assert is_apart, (words, other)


def test_no_line_breaks_between_a_number_and_its_unit() -> None:
    svg = fit_chart(_chart(title="Gaps of 2 mm 3 mm 4 mm 5 mm 6 mm 7 mm 8 mm 9 mm 10 mm 11 mm 12 mm 13 mm"))
    firsts = [words for words, *_ in _texts(svg)]
    assert not any(re.match(r"(mm|in|deg)\b", words) for words in firsts)


def test_numbers_of_a_column_end_at_one_place() -> None:
    ends = {words: right for words, _, right, _ in _texts(fit_chart(_chart()))}
    for column in (("55 mm", "100 mm", "1000 mm"), ("8", "17", "171"), ("3.09", "2.41", "2.01")):
        assert len({round(ends[words], 1) for words in column}) == 1


def test_the_chosen_cell_is_marrow_flower_and_nothing_else_is() -> None:
    svg = fit_chart(_chart())
    left, right, baseline = next(text[1:] for text in _texts(svg) if text[0] == "17")
    image = raster(svg)
    assert colour_at(image, complex(left - 4, baseline - 5)) == MARROW_FLOWER
    assert colour_at(image, complex(right + 4, baseline - 5)) == MARROW_FLOWER
    assert colour_at(image, complex(left - 40, baseline - 5)) == BENCH
    assert svg.count(MARROW_FLOWER) == 1


def test_hatching_fills_its_row_and_stays_in_it() -> None:
    svg = fit_chart(_chart())
    root = etree.fromstring(svg.encode())
    paths = [p for p in root.iter(SVG + "path") if p.get("stroke") == DEW and p.get("d").count("M") > 2]
    (hatching,) = paths
    left, right, top, bottom = svgpathtools.parse_path(hatching.get("d")).bbox()
    baseline = next(y for words, _, _, y in _texts(svg) if words == "55 mm")
    assert top < baseline < bottom
    assert bottom - top == pytest.approx(32)
    assert right - left == pytest.approx(_page(svg)[0] - 56, abs=0.1)
    angles = {round((step.end - step.start).imag / (step.end - step.start).real, 2) for step in
              svgpathtools.parse_path(hatching.get("d"))}  # fmt: skip
    assert angles == {-1.0}


def test_motif_and_bar_are_at_one_scale() -> None:
    root = etree.fromstring(fit_chart(_chart()).encode())
    shape = next(p for p in root.iter(SVG + "path") if p.get("fill-rule") == "evenodd")
    left, right, _, _ = svgpathtools.parse_path(shape.get("d")).bbox()
    lengths = [
        svgpathtools.parse_path(p.get("d")).length() for p in root.iter(SVG + "path") if p.get("stroke-width") == "1.5"
    ]
    assert any(length == pytest.approx((right - left) * 50 / 16, abs=0.2) for length in lengths)


def test_a_chart_needs_a_row() -> None:
    with pytest.raises(ValueError, match="at least one row"):
        fit_chart(_chart(tables=(ChartTable(TABLE.headings, ()),)))
