"""What a class needs, against closed forms and counts of the job: spokes by hand, names round the rim, lists, times.

Sources beside each number. Where none is told it is plain arithmetic, worked out beside it.
"""

from __future__ import annotations

import json
import math
import re
import xml.etree.ElementTree as ET
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from fontTools.fontBuilder import FontBuilder
from fontTools.pens.t2CharStringPen import T2CharStringPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from scipy.integrate import quad

from frameforge.card.preset import load_preset
from frameforge.cli.entry import main
from frameforge.frame.base import Edge
from frameforge.frame.hand_spokes import grid_spokes
from frameforge.frame.spec import Size
from frameforge.machine.estimate import cut_seconds
from frameforge.read.names_list import read_names

NAMES = Path(__file__).parents[1] / "fixtures" / "swap" / "names.csv"
LONGEST = "Bartholomallow Featherstonecrop"
SVG = "{http://www.w3.org/2000/svg}"
SIGNS = "".join(chr(code) for code in range(32, 127))


def _oval_arc_mm(a: float, b: float, start_rad: float, end_rad: float) -> float:
    """Return a length of an ellipse by quadrature, its parameter counted from the long axis."""
    return float(quad(lambda t: math.hypot(a * math.sin(t), b * math.cos(t)), start_rad, end_rad, epsabs=1e-12)[0])


def test_spokes_off_squared_paper_on_an_oval_of_150_by_100() -> None:
    """F13: 56.413 and 42.746 at true 45 degrees, 43.371 and 55.788 along the diagonals, 49.579 if even: quadrature."""
    a, b = 75.0, 50.0
    spokes = grid_spokes(Edge.from_size(Size(2 * a, 2 * b)))
    quarter = _oval_arc_mm(a, b, 0, math.pi / 2)
    # A true direction of 45 degrees meets the ellipse at the parameter with tan t = a/b; a diagonal of its box at 45.
    slanted, diagonal = (_oval_arc_mm(a, b, t, math.pi / 2) for t in (math.atan2(a, b), math.pi / 4))
    assert spokes.slanted_mm == pytest.approx((slanted, quarter - slanted), abs=1e-6)
    assert spokes.diagonal_mm == pytest.approx((diagonal, quarter - diagonal), abs=1e-6)
    assert sorted(round(mm, 3) for mm in spokes.slanted_mm) == [42.746, 56.413]
    assert sorted(round(mm, 3) for mm in spokes.diagonal_mm) == [43.371, 55.788]
    assert round(spokes.even_mm, 3) == 49.579


def _font(path: Path, *, is_truetype: bool) -> Path:
    """Write a font whose capitals are 1000 units high and whose every sign carries on by 600; no sign has holes."""
    names = [".notdef", *(f"u{ord(sign):04X}" for sign in SIGNS)]
    builder = FontBuilder(1000, isTTF=is_truetype)
    builder.setupGlyphOrder(names)
    builder.setupCharacterMap({ord(sign): name for sign, name in zip(SIGNS, names[1:], strict=True)})
    glyphs = {}
    for name in names:
        pen = TTGlyphPen(None) if is_truetype else T2CharStringPen(600, None)
        if name != "u0020":
            pen.moveTo((100, 0))
            pen.lineTo((100, 1000))
            pen.lineTo((500, 1000))
            pen.lineTo((500, 0))
            pen.closePath()
        glyphs[name] = pen.glyph() if is_truetype else pen.getCharString()
    if is_truetype:
        builder.setupGlyf(glyphs)
    else:
        builder.setupCFF("Bars", {"FullName": "Bars"}, glyphs, {})
    builder.setupHorizontalMetrics({name: (600, 100 if name != "u0020" else 0) for name in names})
    builder.setupHorizontalHeader(ascent=1000, descent=-200)
    builder.setupNameTable({"familyName": "Bars", "styleName": "Regular", "fullName": "Bars"})
    builder.setupOS2(sCapHeight=1000, version=4)
    builder.setupPost()
    builder.save(path)
    return path


def _marks(path: Path) -> list[list[complex]]:
    """Return the points of every marked letter about the middle of the page, mm, y down."""
    root = ET.parse(path).getroot()
    left, top, width, height = map(float, root.attrib["viewBox"].split())
    middle = complex(left + width / 2, top + height / 2)
    (group,) = (g for g in root.iter(f"{SVG}g") if g.attrib["id"] == "mark")
    letters = [part for p in group for part in p.attrib["d"].split("M") if part.strip()]
    return [
        [complex(float(x), float(y)) - middle for x, y in re.findall(r"(-?[\d.]+),(-?[\d.]+)", part)]
        for part in letters
    ]


@pytest.mark.parametrize("kind", ["ttf", "otf"])
def test_the_longest_name_shrinks_to_8257_at_the_stated_metrics(
    kind: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """F44: capitals 6 high, 3.6 a sign, radius 22, 240 degrees: 31 signs are 111.6 mm, 92.153 have room, scale .8257.

    240/360 x 2 pi x 22 = 92.153; 92.153 / 111.6 = .8257. A TrueType font and one of PostScript outlines (CFF).
    """
    font = _font(tmp_path / f"bars.{kind}", is_truetype=kind == "ttf")
    words = ["make", "--size", "60mm", "--text", LONGEST, "--font", str(font), "--formats", "svg", "--name", "badge"]
    assert main([*words, "--out", str(tmp_path / "out")]) == 0
    assert f'Took letters 4.95 mm high for "{LONGEST}", so that they have room (scale 0.8257).' in (
        capsys.readouterr().out
    )
    letters = _marks(tmp_path / "out" / "badge.svg")
    assert len(letters) == len(LONGEST) - 1  # the space
    middles = [sum(points) / 4 for points in letters]
    turns = [math.degrees(math.atan2(z.real, -z.imag)) for z in middles]
    # The first and the last sign stand half an advance in from the ends of 240 degrees.
    advance_deg = 240 / len(LONGEST)
    assert min(turns) == pytest.approx(-120 + advance_deg / 2, abs=0.02)
    assert max(turns) == pytest.approx(120 - advance_deg / 2, abs=0.02)
    feet = [min(abs(z) for z in points) for points in letters]
    # The middle of the foot of a letter lies at 22; its corners, half of 0.4 x 4.954 off, a little further out.
    assert feet == pytest.approx([math.hypot(22, 0.2 * 6 * 0.8257)] * len(feet), abs=0.01)


@pytest.mark.parametrize("length", [12, 20, 25])
def test_the_angle_of_words_is_their_length_over_the_radius(
    length: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """F44: angle = L/r with L = 3.6 mm a sign and r = 22."""
    font = _font(tmp_path / "bars.ttf", is_truetype=True)
    words = ["make", "--size", "60mm", "--text", "N" * length, "--font", str(font), "--formats", "svg"]
    assert main([*words, "--name", "badge", "--out", str(tmp_path / "out")]) == 0
    assert "Took letters" not in capsys.readouterr().out
    middles = [sum(points) / 4 for points in _marks(tmp_path / "out" / "badge.svg")]
    turns = [math.degrees(math.atan2(z.real, -z.imag)) for z in middles]
    assert max(turns) - min(turns) == pytest.approx(math.degrees(3.6 * (length - 1) / 22), abs=0.02)


@pytest.mark.parametrize("words", ["ABDOPQR 046890", "abdegopq @&%#"])
def test_no_island_of_cut_letters_falls_out(words: str, tmp_path: Path, run_json: Callable[..., object]) -> None:
    """F45: every letter that encloses card, cut through: the piece stays in one part."""
    options = ["--size", "120x90mm", "--text", words, "--as", "window", "--letter-size", "9mm", "--formats", "svg"]
    (piece,) = run_json(*options, "--out", str(tmp_path / "out"))["pieces"]  # type: ignore[index]
    assert piece["parts"] == 1
    assert not [finding for finding in piece["findings"] if finding["code"] == "loose"]


@pytest.fixture
def run_json(capsys: pytest.CaptureFixture[str]) -> Callable[..., object]:
    """Return the function that makes a piece and reads what it printed as JSON."""

    def made(*words: str) -> object:
        capsys.readouterr()
        assert main(["make", *words, "--json"]) == 0
        return json.loads(capsys.readouterr().out)

    return made


def test_the_list_of_names_is_the_one_of_the_job() -> None:
    """F65, F66: 24 distinct names, 363 characters, the longest 31, the shortest 9; 6 tables of 4; colours 8/8/8."""
    listed = read_names(NAMES.read_bytes(), "names.csv")
    names = [row.values["name"] for row in listed.rows]
    assert len(names) == len(set(names)) == 24
    assert (sum(map(len, names)), max(map(len, names)), min(map(len, names))) == (363, 31, 9)
    assert "O'Radish, Minty" in names
    assert set(Counter(row.values["table"] for row in listed.rows).values()) == {4}
    assert Counter(row.values["colour"] for row in listed.rows) == {"moss": 8, "sand": 8, "brick": 8}


@pytest.mark.parametrize(
    "saved",
    [
        pytest.param(lambda text: text.encode("utf-8-sig"), id="with a byte order mark"),
        pytest.param(lambda text: text.replace("\n", "\r\n").encode("utf-8"), id="with the line ends of Windows"),
        pytest.param(
            lambda text: re.sub(r'(?<!Radish),(?! )', ";", text).encode("utf-8"), id="with semicolons, as in Europe"
        ),
        pytest.param(lambda text: re.sub(r"(?<!Radish),(?! )", "\t", text).encode("utf-8"), id="with tabs"),
    ],
)  # fmt: skip
def test_a_list_says_the_same_however_a_spreadsheet_saves_it(saved: Callable[[str], bytes]) -> None:
    """F65. How spreadsheets save lists: RFC 4180 for commas and quotes; semicolons and tabs are common practice."""
    plain = read_names(NAMES.read_bytes(), "names.csv")
    other = read_names(saved(NAMES.read_text(encoding="utf-8")), "names.csv")
    assert [row.values for row in other.rows] == [row.values for row in plain.rows]


def test_cutting_3000_mm_at_20_mm_a_second_in_40_lifts_takes_170_s() -> None:
    """F68: 3000 / 20 + 40 x 0.5."""
    preset = replace(load_preset("card-240-knife"), speed_mm_s=20.0, lift_s=0.5, passes=1)
    assert cut_seconds(3000, 40, preset) == 170
