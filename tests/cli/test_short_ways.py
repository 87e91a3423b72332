"""Every short way as a maker types it, and every message she may get for it, word for word. No source: ours."""

from __future__ import annotations

import re
import shlex
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

DAISY = '<svg xmlns="http://www.w3.org/2000/svg" width="12mm" height="14mm" viewBox="0 0 12 14">{}</svg>'.format(
    '<path d="M3 14C3 9 0 8 0 5C0 2 3 0 6 0C9 0 12 2 12 5C12 8 9 9 9 14Z"/>'
)
FLOWER = (
    '<svg xmlns="http://www.w3.org/2000/svg" {}viewBox="0 0 60 60"><path fill="none" stroke="#000" '
    'd="M0 0H60V60H0ZM20 20h20v20h-20zM41 20h10v20h-10z"/></svg>'
)
BADGE = """
[files]
formats = ["svg"]
[[piece]]
name = "badge"
size = 60
[[piece.text]]
column = "name"
"""
COLLAR = """
[[piece]]
name = "collar"
size = 100
opening = 70
[[piece.row]]
motif = "pea-pod"
count = 11
mirror = "every-other"
"""
SEAL = """
[files]
formats = ["svg"]
[[piece]]
name = "seal"
size = 57.15
[[piece.row]]
motif = "scallop"
count = 14
"""
INVITATION = """
[[piece]]
name = "invitation"
size = 80
goes_in = "C6"
[[piece.row]]
motif = "bean-leaf"
count = 16
"""
HOOP = """
[[piece]]
name = "hoop"
size = 300
sheet = "A4"
"""
MISPLACED = """[[piece]]
name = "badge"
size = 60

[[piece.row]]
motif = "seed-husk"
count = 16
scale = 0.7




# how many of them
copies = 3
"""
LETTERS = DAISY.replace("<path", '<text x="2" y="5">Spring</text><path').replace('d="M3', 'fill="none" d="M3')


@pytest.fixture
def here(tmp_path: Path) -> Path:
    """Return a folder with everything that the short ways name."""
    rows = ["Peasel Thornby,1,moss", "Élodeà Crësswick,2,sand"]
    files = {
        "daisy.svg": DAISY,
        "flower.svg": FLOWER.format('width="60mm" height="60mm" '),
        "badge.toml": BADGE,
        "names.csv": "\n".join(("name,table,colour", *rows)) + "\n",
    }
    for name, text in files.items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    return tmp_path


WAYS = [
    ("fit --motif arch --size 100mm --gap 2", "17 arches round 100 mm (3.94 in), gap 2.41 mm each.", "fit-arch.svg"),
    ("fit --foot 20 --count 8 --gap 4", "8 feet round 62.05 mm (2.44 in), gap 4 mm each.", "fit-foot-20mm.svg"),
    (
        "make --motif arch --size 100mm --opening 60mm",
        "17 arches round 100 mm (3.94 in), gap 2.41 mm each. 16 would leave 3.56 mm",
        "arch-17-on-100mm.svg",
    ),
    (
        "make --motif cabbage-edge --count 16 --size 150x100mm --opening 110x60mm",
        "16 cabbage edges round 150 x 100 mm (5.91 x 3.94 in), gap ",
        "cabbage-edge-16-on-150x100mm.dxf",
    ),
    (
        "make --motif bean-leaf --count 16 --size find --goes-in C6",
        "bean-leaf-16-on-76.1mm: 108 mm (4 1/4 in) across.",
        "bean-leaf-16-on-76.1mm.svg",
    ),
    (
        'make --rings "60-140 by 20" --motif arch --count 24',
        "24 arches round 140 mm (5.51 in), gap 2.29 mm each.",
        "arch-24-on-rings-60-140mm.svg",
    ),
    (
        'make --size 120x80mm --layers "cream 5mm, brick 5mm"',
        "Stack of 3 cards",
        "plain-120x80mm-layer-3-brick.svg",
    ),
    ("make badge.toml --names names.csv", "2 pieces: moss 1, sand 1.", "badge-02-elodea-cresswick.svg"),
    ("nest badge.svg:24 --sheet A4", "24 badges on 3 sheets.", "sheet-3.svg"),
    ("guide --foot 20 --size 100mm --count 14", "14 feet round 100 mm (3.94 in)", "guide-foot-14-on-100mm.pdf"),
    ("check flower.svg", "1 mm of card between two cuts, this card needs 1.5 mm.", "flower.check.svg"),
    ("mend flower.svg --out mended/", "Nothing found.", "../mended/flower.svg"),
    ("check unsized.svg --width 200mm", "unsized.svg: 200 mm (7 7/8 in) across.", "unsized.check.svg"),
    (
        'make --motif daisy.svg --size 100mm --hole "4mm top" --skip top',
        "daisies round 100 mm (3.94 in), gap 2.22 mm each.",
        "daisy-25-on-100mm.svg",
    ),
    (
        'make --motif beetle --size 100mm --fold "10mm top"',
        "Folds 60 mm wide, 10 mm in from the top",
        "beetle-13-on-100mm-fold.crease.svg",
    ),
    ("make --test-piece", "Lines to keep, with your own numbers,", "test-piece.svg"),
]


@pytest.mark.parametrize(("line", "said", "file"), WAYS, ids=[re.sub(r"\W+", "-", line) for line, *_ in WAYS])
def test_a_short_way_works_as_written(run: Callable[..., Any], here: Path, line: str, said: str, file: str) -> None:
    if "badge.svg" in line:
        # As wide as a badge of 60 mm with its husks; eight go on a sheet in staggered rows.
        assert run("make", "--size", "75.95", "--name", "badge", "--formats", "svg", "--out", ".").code == 0
    (here / "unsized.svg").write_text(FLOWER.format(""), encoding="utf-8")
    ran = run(*shlex.split(line))
    assert ran.code == 0, ran.err
    assert said in ran.out
    assert (here / "out" / file).resolve().stat().st_size > 0


def test_a_test_piece_prints_lines_that_a_preset_keeps(run: Callable[..., Any], here: Path) -> None:
    printed = run("make", "--test-piece", "--formats", "svg").out
    lines = [line.strip() for line in printed.splitlines() if line.startswith("    ")]
    (here / "presets.toml").write_text("\n".join(lines), encoding="utf-8")
    ran = run("make", "badge.toml", "--text", "Ixo", "--preset", "my-card-240-knife")
    assert ran.code == 0, ran.err
    assert "Limits of my-card-240-knife." in ran.out


MESSAGES = [
    (1, "make --size 100 mm", 'make: "mm" stands alone after --size 100. Write 100mm without a space, or "100 mm" in '
        "quotes."),
    (2, 'make --size "100 milimeters"', 'make, --size "100 milimeters": no such unit. Write mm, cm or in, for example '
        '100mm, 4in, "3 1/4 in".'),
    (3, "make --motif beanleaf --size 100mm", "make, --motif beanleaf: no such motif; the nearest is bean-leaf. See "
        "all with: frameforge motif list"),
    (4, "make badge.toml", 'badge.toml line 14, row 1: "copies" belongs to the piece, not to its row. Move it above '
        "[[piece.row]]."),
    (5, "make --motif arch --size 100mm --count 18 --gap 2", "make: 18 arches do not go round a 100 mm circle with "
        "gaps of 2 mm; 17 do. Take --count 17 (gap 2.41 mm), --size 103.6mm or --scale 0.96."),
    (6, "make --motif arch --size 100mm --count 16 --scale 1 --gap 5", "make: size 100 mm, 16 arches at full scale "
        "and a gap of 5 mm cannot all hold; the gap comes to 3.56 mm. Leave out one of them, or take --size 107.3mm."),
    # The gaps of the pods are those between their outlines, which lean out over their feet.
    (7, "make collar.toml", "collar: every-other mirroring needs an even count; with 11, two neighbours lean the same "
        "way. Take 10 (gap 8.82 mm) or 12 (gap 3.51 mm)."),
    (8, "make seal.toml", "14 slits of 0.73 mm between the scallops, this card needs 1.0 mm. Take --gap 0 --scale "
        "find (they touch), --count 13 (1.72 mm) or --size 58.4mm."),
    (9, "make invitation.toml", "invitation: 111.9 mm across, a C6 envelope takes 108 mm with 3 mm each side. Make "
        "the circle 76.1 mm or less, or name a larger envelope."),
    (10, "make hoop.toml", "hoop: 300 mm across, an A4 sheet with 5 mm margin takes 200 mm. Make it smaller, or use "
        "--sheet A2 (takes 410 mm)."),
    (11, "make --motif daisy.svg --size 100mm", 'daisy.svg, letters "Spring": lettering cannot be a cut line. Turn '
        "the letters into outlines in your drawing program and save again."),
    (12, "make badge.toml --names names.csv", "names.csv line 11: 4 values under 3 headings; the comma in O'Radish, "
        'Minty splits the name. Put the name in "double quotes".'),
    (13, "make --size 60mm --name badge", "out/badge.svg: frameforge did not write this file and leaves it alone. "
        "Choose another folder with --out, or replace it with --force."),
]  # fmt: skip


@pytest.mark.parametrize(("number", "line", "said"), MESSAGES, ids=[str(number) for number, *_ in MESSAGES])
def test_a_message_is_word_for_word(run: Callable[..., Any], here: Path, number: int, line: str, said: str) -> None:
    names = [f"Name {k},1,moss" for k in range(9)]
    files = {
        "badge.toml": MISPLACED if number == 4 else BADGE,
        "collar.toml": COLLAR,
        "seal.toml": SEAL,
        "invitation.toml": INVITATION,
        "hoop.toml": HOOP,
        "daisy.svg": LETTERS,
        "names.csv": "\n".join(("name,table,colour", *names, "O'Radish, Minty,2,sand")) + "\n",
    }
    for name, text in files.items():
        (here / name).write_text(text, encoding="utf-8")
    (here / "out").mkdir()
    (here / "out" / "badge.svg").write_text("mine")
    ran = run(*shlex.split(line))
    if number == 8:
        # A thing found, not a refusal: it stands in the list, behind its number and word.
        assert ran.code == 0, ran.err
        assert re.search(rf"^  1 x14, warning, narrow-slot: {re.escape(said)}$", ran.out, re.MULTILINE)
    else:
        assert ran.code in (2, 3, 4)
        assert ran.faults == [said]
    assert [path.name for path in (here / "out").iterdir() if number != 8] in ([], ["badge.svg"])
    assert (here / "out" / "badge.svg").read_text() == "mine"
