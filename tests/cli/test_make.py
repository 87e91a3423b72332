"""``make`` through the command line: what is written, what is said, what is refused and with which exit code."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from frameforge.cli.entry import main
from frameforge.read.motif_folder import folder

DAISY = (folder() / "plum-blossom.svg").read_bytes()
"""A drawing of the maker's own: one of ours under a name that is not in the catalogue."""

BADGE = """
[[piece]]
name = "badge"
card = "moss"
copies = 24
size = 60

[[piece.row]]
motif = "seed-husk"
count = 16
scale = 0.7
"""


def test_the_shortest_line_makes_a_piece(run: Callable[..., Any]) -> None:
    ran = run("make", "--motif", "arch", "--size", "100mm", "--opening", "60mm")
    assert (ran.code, ran.err) == (0, "")
    names = {path.name for path in Path("out").iterdir()}
    stem = "arch-17-on-100mm"
    assert names == {f"{stem}.svg", f"{stem}.dxf", f"{stem}.png", "report.md", "run.json"}
    assert "17 arches round 100 mm (3.94 in), gap 2.41 mm each. 16 would leave 3.56 mm" in ran.out
    assert "Limits of card-240-knife." in ran.out
    assert ran.out.splitlines()[-1] == (
        "Sharp blade: fingers clear, machine off when you change it. Your machine's manual comes first."
    )


@pytest.mark.parametrize(
    ("words", "stem"),
    [
        (
            ["--motif", "cabbage-edge", "--count", "16", "--size", "150x100mm", "--opening", "110x60mm"],
            "cabbage-edge-16-on-150x100mm",
        ),
        (["--motif", "daisy.svg", "--size", "100mm", "--hole", "4mm top", "--skip", "top"], "daisy-22-on-100mm"),
        (["--size", "80mm"], "plain-80mm"),
        (["--size", "4in", "--rim", "1/2 in", "--motif", "scallop", "--place", "in"], "scallop-17-inwards-on-101.6mm"),
        (["--size", "60", "--motif", "arch", "--count", "8", "--mirror", "every-other", "--name", "ring"], "ring"),
        (
            ["--size", "90mm", "--motif", "bean-leaf", "--motif", "arch", "--count", "10", "--start", "half"],
            "bean-leaf-arch-10-on-90mm",
        ),
        (["--size", "80mm", "--motif", "rose-drop", "--place", "window", "--scale", "0.7", "--count", "12"], None),
        (["--size", "find", "--motif", "bean-leaf", "--count", "16", "--gap", "2"], None),
        (["--size", "100", "--motif", "arch", "--keep-free", "60deg at top", "--foot", "12mm"], None),
        (["--size", "100", "--motif", "arch", "--lean", "10deg", "--count", "9", "--gap", "find"], None),
    ],
)
def test_short_ways_work_as_written(run: Callable[..., Any], words: list[str], stem: str | None) -> None:
    Path("daisy.svg").write_bytes(DAISY)
    ran = run("make", *words, "--formats", "svg", "--json")
    assert ran.code == 0, ran.err
    (piece,) = ran.json["pieces"]
    assert stem in (None, piece["name"])
    assert (Path("out") / piece["files"]["svg"]).is_file()


def test_json_is_one_object_of_the_agreed_shape(run: Callable[..., Any]) -> None:
    ran = run(
        "make", "--motif", "arch", "--size", "100mm", "--opening", "60mm", "--card", "moss", "--copies", "3", "--json"
    )
    assert ran.code == 0
    made = ran.json
    assert list(made) == ["out", "pieces", "sheets", "report", "findings"]
    assert made["out"] == str(Path("out").resolve())
    assert (made["sheets"], made["report"], made["findings"]) == (None, "report.md", [])
    (piece,) = made["pieces"]
    assert list(piece) == [
        "name", "card", "copies", "files", "width_mm", "height_mm", "area_mm2", "cut_length_mm", "kerf_mm", "lifts",
        "cut_s", "waste_bits", "parts", "inside_cuts", "segments", "rows", "findings",
        "mended", "holes", "creases", "crease_length_mm", "words", "marks", "mark_length_mm", "fold", "lid",
    ]  # fmt: skip
    assert (piece["name"], piece["card"], piece["copies"]) == ("arch-17-on-100mm", "moss", 3)
    assert set(piece["files"]) == {"svg", "dxf", "png"}
    assert (piece["parts"], piece["inside_cuts"]) == (1, 18)
    assert (piece["lifts"], piece["waste_bits"]) == (19, 18)
    assert piece["cut_s"] == pytest.approx(piece["cut_length_mm"] / 20 + 19 * 0.5), "20 mm/s and half a second a lift"
    assert piece["kerf_mm"] == 0
    (row,) = piece["rows"]
    assert list(row) == [
        "motif", "count", "gap_mm", "foot_gap_mm", "gap_max_mm", "pitch_deg", "start_deg", "seam_gap_mm", "scale",
        "seat", "place", "spread",
    ]  # fmt: skip
    assert (row["motif"], row["count"], row["seat"], row["place"]) == ("arch", 17, "as-drawn", "out")
    # g = D sin(pi/n - asin(w/D)), D 100, w 16, n 17: closed form of neighbouring feet on a circle (derivation)
    assert row["foot_gap_mm"] == pytest.approx(2.410658, abs=1e-6)
    assert row["pitch_deg"] == pytest.approx(360 / 17)
    finding_keys = ["code", "severity", "piece", "where", "x_mm", "y_mm", "measured", "limit", "unit", "say"]
    assert all(list(finding) == finding_keys for finding in piece["findings"])
    assert "17 arches round" in ran.err, "lines for people stand beside the JSON"


def test_a_picture_of_the_card_left_is_made_where_asked(run: Callable[..., Any]) -> None:
    ran = run(
        "make", "--motif", "scallop", "--size", "60mm", "--name", "seal", "--formats", "svg", "--as-cut", "--json"
    )
    assert ran.code == 0
    files = ran.json["pieces"][0]["files"]
    assert files == {"svg": "seal.svg", "as-cut.svg": "seal.as-cut.svg", "as-cut.png": "seal.as-cut.png"}
    assert "26 bits to pick out, the smallest 1.8 mm2." in Path("out/seal.as-cut.svg").read_text(encoding="utf-8")
    assert Path("out/seal.as-cut.png").read_bytes().startswith(b"\x89PNG")
    assert "  26 bits to pick out, 352.7 mm to cut in 27 lifts, about 31 s." in ran.err.splitlines()
    again = run("make", "out/seal.svg", "--out", "other")
    assert (again.code, Path("other/seal.as-cut.png").exists()) == (0, True), "the file's recipe says so too"


def test_the_page_is_the_outline_and_half_a_millimetre(run: Callable[..., Any]) -> None:
    run("make", "--size", "80mm", "--name", "disc", "--formats", "svg")
    root = ET.fromstring(Path("out/disc.svg").read_text(encoding="utf-8"))
    assert (root.get("width"), root.get("height")) == ("81mm", "81mm")


def test_a_recipe_makes_its_pieces(run: Callable[..., Any]) -> None:
    Path("swap.toml").write_text(BADGE + '[[piece]]\nname = "seal"\nsize = "2 1/4 in"\n', encoding="utf-8")
    ran = run("make", "swap.toml", "--formats", "svg,dxf", "--out", "there", "--json")
    assert ran.code == 0, ran.err
    assert [piece["name"] for piece in ran.json["pieces"]] == ["badge", "seal"]
    listed = json.loads(Path("there/run.json").read_text(encoding="utf-8"))
    assert "badge" in json.dumps(listed)
    assert Path("there/seal.dxf").is_file()
    assert not Path("there/seal.png").exists()


def test_options_override_a_recipe_of_one_piece(run: Callable[..., Any]) -> None:
    Path("badge.toml").write_text(BADGE, encoding="utf-8")
    ran = run("make", "badge.toml", "--size", "70mm", "--count", "18", "--formats", "svg", "--json")
    (piece,) = ran.json["pieces"]
    assert (piece["name"], piece["card"], piece["rows"][0]["count"]) == ("badge", "moss", 18)


def test_islands_in_windows_are_kept_where_asked(run: Callable[..., Any]) -> None:
    words = ["make", "--motif", "arch", "--size", "100mm", "--count", "8", "--place", "window", "--formats", "svg"]
    plain = run(*words, "--name", "plain", "--json").json["pieces"][0]
    kept = run(*words, "--keep-counters", "--name", "kept", "--json").json["pieces"][0]
    assert (plain["parts"], plain["inside_cuts"], kept["parts"], kept["inside_cuts"]) == (1, 8, 1, 16)
    assert kept["area_mm2"] > plain["area_mm2"] + 8 * 3.141592653589793 * 4.5**2 / 2, "8 half discs and their ties"
    again = run("make", "out/kept.svg", "--out", "again", "--json").json["pieces"][0]
    assert again["area_mm2"] == kept["area_mm2"]
    refused = run("make", "--motif", "arch", "--size", "100mm", "--keep-counters")
    assert (refused.code, refused.faults) == (
        2,
        ["make: --keep-counters keeps islands of card in windows, and this row cuts none. "
         "Take --place window, or leave it out."],
    )  # fmt: skip


def test_a_recipe_finds_drawings_beside_it(run: Callable[..., Any]) -> None:
    Path("there").mkdir()
    Path("there/daisy.svg").write_bytes(DAISY)
    Path("there/a.toml").write_text(BADGE.replace("seed-husk", "daisy.svg"), encoding="utf-8")
    assert run("make", "there/a.toml", "--formats", "svg").code == 0


def test_motifs_of_the_makers_own_folder_come_first(run: Callable[..., Any]) -> None:
    Path("mine").mkdir()
    Path("mine/arch.svg").write_bytes(DAISY)
    ran = run("make", "--motif", "arch", "--size", "60mm", "--motifs", "mine", "--formats", "svg", "--json")
    assert ran.code == 0
    assert (
        ran.json["pieces"][0]["rows"][0]["count"]
        != run("make", "--motif", "arch", "--size", "60mm", "--formats", "svg", "--json").json["pieces"][0]["rows"][0][
            "count"
        ]
    )


@pytest.mark.parametrize("kind", ["svg", "dxf"])
@pytest.mark.parametrize(
    "words",
    [
        ["--motif", "daisy.svg", "--size", "100mm", "--count", "12", "--opening", "40mm", "--name", "É tag"],
        ["--motif", "arch", "--size", "150x100mm", "--count", "16", "--dxf", "r12", "--one-path"],
        [
            "--motif",
            "bean-leaf",
            "--motif",
            "daisy.svg",
            "--size",
            "4",
            "--units",
            "in",
            "--count",
            "10",
            "--dxf",
            "lines",
        ],
        ["--motif", "pea-pod", "--size", "find", "--gap", "3", "--count", "10", "--mirror", "every-other"],
        ["--size", "80mm", "--dxf-unit", "in", "--hole", "4mm bottom"],
    ],
)
def test_a_file_makes_itself_again_without_its_motifs(run: Callable[..., Any], words: list[str], kind: str) -> None:
    Path("daisy.svg").write_bytes(DAISY)
    ran = run("make", *words, "--formats", "svg,dxf", "--out", "first", "--json")
    assert ran.code == 0, ran.err
    files = ran.json["pieces"][0]["files"]
    Path("daisy.svg").unlink()
    assert run("make", f"first/{files[kind]}", "--out", "second").code == 0
    for name in files.values():
        assert Path("second", name).read_bytes() == Path("first", name).read_bytes()
    assert run("make", f"second/{files[kind]}", "--out", "third").code == 0
    assert Path("third", files["svg"]).read_bytes() == Path("first", files["svg"]).read_bytes()


def test_the_recipe_kept_in_a_file_holds_no_path(run: Callable[..., Any], tmp_path: Path) -> None:
    Path("daisy.svg").write_bytes(DAISY)
    run("make", "--motif", str(tmp_path / "daisy.svg"), "--size", "100mm", "--name", "x", "--motifs", str(tmp_path))
    for name in ("x.svg", "x.dxf"):
        text = Path("out", name).read_text(encoding="utf-8")
        assert tmp_path.name not in text
        assert "daisy.svg" not in text


def test_same_input_gives_the_same_bytes(run: Callable[..., Any]) -> None:
    for out in ("a", "b"):
        run("make", "--motif", "arch", "--size", "60mm", "--opening", "30mm", "--out", out)
    names = sorted(path.name for path in Path("a").iterdir())
    assert names == sorted(path.name for path in Path("b").iterdir())
    assert all(Path("a", name).read_bytes() == Path("b", name).read_bytes() for name in names)


@pytest.mark.parametrize(
    ("words", "code", "line"),
    [
        (
            ["--size", "100 milimeters"],
            2,
            'make, --size "100 milimeters": no such unit. Write mm, cm or in, for example 100mm, 4in, "3 1/4 in".',
        ),
        (
            ["--motif", "beanleaf", "--size", "100mm"],
            2,
            "make, --motif beanleaf: no such motif; the nearest is bean-leaf. See all with: frameforge motif list",
        ),
        (["--motif", "arch"], 2, "make: no size. Add --size 100mm for a circle, --size 150x100mm for an oval."),
        (["--json"], 2, "make: no size. Add --size 100mm for a circle, --size 150x100mm for an oval."),
        (
            ["--size", "100mm", "--preset", "card-250-knife"],
            2,
            'make, --preset "card-250-knife": there is no preset "card-250-knife". The nearest is card-240-knife.',
        ),
        (
            ["--motif", "arch", "--size", "100mm", "--count", "18", "--gap", "2"],
            3,
            "make: 18 arches do not go round a 100 mm circle with gaps of 2 mm; 17 do. "
            "Take --count 17 (gap 2.41 mm), --size 103.6mm or --scale 0.96.",
        ),
        (
            ["--motif", "arch", "--size", "100mm", "--count", "16", "--gap", "5"],
            3,
            "make: size 100 mm, 16 arches at full scale and a gap of 5 mm cannot all hold; the gap comes to 3.56 mm. "
            "Leave out one of them, or take --size 107.3mm.",
        ),
        (["nothing.toml"], 4, "nothing.toml: no such file. Look at its name and folder."),
        (["--motif", "nothing.svg", "--size", "100mm"], 4, "nothing.svg: no such file. Look at its name and folder."),
    ],
)
def test_what_cannot_be_made_is_refused_in_one_line(
    run: Callable[..., Any], words: list[str], code: int, line: str
) -> None:
    ran = run("make", *words)
    assert ran.faults == [line]
    assert ran.code == code
    assert not Path("out").exists(), "a refused run leaves no folder"
    as_json = run("make", *(word for word in words if word != "--json"), "--json")
    where, _, say = line.partition(": ")
    assert as_json.code == code
    assert as_json.json["error"]["exit"] == code
    assert as_json.json["error"]["say"] == line
    assert as_json.json["error"]["where"] == where
    assert say


@pytest.mark.parametrize(
    "words",
    [
        ["--motif", "arch", "--size", "100mm", "--opening", "99.5mm"],
        ["--motif", "arch", "--size", "100mm", "--opening", "120mm"],
        ["--motif", "arch", "--size", "12mm"],
        ["--motif", "arch", "--size", "100mm", "--count", "2000"],
        ["--motif", "pea-pod", "--size", "100mm", "--count", "11", "--mirror", "every-other"],
        ["--size", "100mm", "--rim", "60mm"],
    ],
)
def test_what_the_card_cannot_do_is_refused_with_numbers(run: Callable[..., Any], words: list[str]) -> None:
    ran = run("make", *words)
    assert ran.code == 3, ran.out
    assert ran.faults
    assert all(any(sign.isdigit() for sign in line) for line in ran.faults)
    assert not Path("out").exists()


def test_message_of_a_key_in_the_wrong_table(run: Callable[..., Any]) -> None:
    text = '\n\n\n\n\n\n\n[[piece]]\nname = "badge"\nsize = 60\n\n[[piece.row]]\nmotif = "arch"\ncopies = 24\n'
    Path("badge.toml").write_text(text, encoding="utf-8")
    ran = run("make", "badge.toml")
    assert ran.faults == [
        'badge.toml line 14, row 1: "copies" belongs to the piece, not to its row. Move it above [[piece.row]].'
    ]
    assert ran.code == 2


def test_a_file_that_is_not_ours_is_left_alone(run: Callable[..., Any]) -> None:
    Path("out").mkdir()
    Path("out/badge.svg").write_text("<svg/>", encoding="utf-8")
    ran = run("make", "--size", "60mm", "--name", "badge")
    assert ran.faults == [
        "out/badge.svg: frameforge did not write this file and leaves it alone. Choose another folder with --out, "
        "or replace it with --force."
    ]
    assert ran.code == 4
    assert [path.name for path in Path("out").iterdir()] == ["badge.svg"]
    assert Path("out/badge.svg").read_text(encoding="utf-8") == "<svg/>"
    assert run("make", "--size", "60mm", "--name", "badge", "--force").code == 0
    assert run("make", "--size", "61mm", "--name", "badge").code == 0, "our own file is replaced"
    text = Path("out/badge.svg").read_text(encoding="utf-8")
    Path("out/badge.svg").write_text(text.replace("badge", "bodge", 1), encoding="utf-8")
    assert run("make", "--size", "61mm", "--name", "badge").code == 4, "edited since, it is not ours"


def test_a_folder_that_cannot_be_made_is_told(run: Callable[..., Any]) -> None:
    Path("out").write_text("", encoding="utf-8")
    ran = run("make", "--size", "60mm")
    assert (ran.code, len(ran.faults)) == (4, 1)
    assert "Choose another folder with --out." in ran.faults[0]


def test_warnings_are_refused_where_asked(run: Callable[..., Any]) -> None:
    """Slits of 0.73 mm between scallops are under the 1 mm of the usual card: a warning."""
    words = ("make", "--motif", "scallop", "--size", "2 1/4 in", "--count", "14", "--formats", "svg")
    allowed = run(*words, "--json")
    assert allowed.code == 0
    warned = Counter(f["code"] for f in allowed.json["pieces"][0]["findings"] if f["severity"] == "warning")
    assert warned == {"narrow-slot": 14, "thin-web": 28, "small-hole": 28}
    strict = run(*words, "--strict", "--json", "--out", "other")
    assert strict.code == 3
    assert strict.json["error"]["code"] == "findings"
    assert {"narrow-slot", "thin-web", "small-hole"} <= {f["code"] for f in strict.json["findings"]}
    assert not Path("other").exists()


def test_a_bare_small_size_is_asked_about(run: Callable[..., Any]) -> None:
    ran = run("make", "--size", "14", "--formats", "svg")
    assert ran.code == 0
    assert ran.out.splitlines()[0] == 'make, --size "14": 14 mm? For inches write 14in.'
    assert run("make", "--size", "4", "--motif", "arch").faults[-1] == 'make, --size "4": 4 mm? For inches write 4in.'
    assert "For inches" not in run("make", "--size", "14mm", "--formats", "svg").out


@pytest.mark.parametrize(
    ("content", "line"),
    [
        (b"\xff\xfe", "a.toml line 1: not written in UTF-8. Save it again as UTF-8."),
        (b"[[piece]]\nsize = 100mm\n", 'a.toml line 2: 100mm needs quotes. Write "100mm".'),
        (b"\xef\xbb\xbf[[piece]]\nsize = 0\n", None),
    ],
)
def test_a_recipe_that_cannot_be_read_is_told_with_its_line(
    run: Callable[..., Any], content: bytes, line: str | None
) -> None:
    Path("a.toml").write_bytes(content)
    ran = run("make", "a.toml")
    assert ran.code == 2
    assert line is None or ran.faults == [line]


def test_a_drawing_without_a_recipe_is_told(run: Callable[..., Any]) -> None:
    Path("daisy.svg").write_bytes(DAISY)
    ran = run("make", "daisy.svg")
    assert ran.code == 2
    assert ran.faults == [
        "daisy.svg: no recipe is kept in this file. Give a recipe (.toml), or an SVG or DXF that frameforge wrote."
    ]


def test_a_folder_is_no_recipe(run: Callable[..., Any]) -> None:
    Path("a.toml").mkdir()
    ran = run("make", "a.toml")
    assert (ran.code, ran.faults) == (4, ["a.toml: this is a folder. Name the recipe in it."])


def test_a_name_that_is_nearly_right_is_offered(run: Callable[..., Any]) -> None:
    Path("badge.toml").write_text(BADGE, encoding="utf-8")
    assert run("make", "badges.toml").faults == ["badges.toml: no such file. The nearest in that folder is badge.toml."]


def test_faults_of_several_pieces_are_told_together(run: Callable[..., Any]) -> None:
    text = "".join(
        f'[[piece]]\nname = "{name}"\nsize = 100\nopening = {size}\n'
        for name, size in (("a", 120), ("b", 50), ("c", 130))
    )
    Path("a.toml").write_text(text, encoding="utf-8")
    ran = run("make", "a.toml")
    assert ran.code == 3
    assert [line.split(":")[0] for line in ran.faults] == ["a", "c"]
    assert not Path("out").exists()


def test_a_rest_filled_on_a_base_of_next_to_nothing_is_refused_in_one_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Bent windows so far apart that their edge shrinks to a point, on which places run into each other."""
    line = ["make", "--motif", "bean-leaf", "--size", "2.7cm", "--gap", "0.78in", "--place", "window", "--seat", "bent"]
    assert main([*line, "--rest", "filler", "--seam", "22.5deg", "--out", str(tmp_path / "out")]) in (2, 3)
    (said,) = capsys.readouterr().err.splitlines()
    assert said.startswith("make: fewer than 3 bean leaves go round a 27 mm circle")
