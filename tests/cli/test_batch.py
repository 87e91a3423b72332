"""A class batch through the command line: a piece a row, colours, failures, workers, a stop at any moment."""

from __future__ import annotations

import hashlib
import json
import os
import random
import signal
import subprocess
import time
import xml.etree.ElementTree as ET
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from fixtures.process import COMMAND
from pypdf import PdfReader

NAMES = Path(__file__).parents[1] / "fixtures" / "swap" / "names.csv"
SVG = "{http://www.w3.org/2000/svg}"
PLAIN = """
[files]
formats = ["svg"]
[[piece]]
name = "tag"
size = "40mm"
[[piece.text]]
column = "name"
size = "4mm"
"""
ROW = """
[[piece.row]]
motif = "seed-husk"
count = 16
scale = 0.7
skip = ["top"]
[[piece.hole]]
size = 4
at = "top"
"""
BADGE = """
[files]
formats = ["svg"]
[sheets]
tries = 0
[card.moss]
sheets = "A4"
[card.sand]
sheets = "A4"
[card.brick]
sheets = "A4"
[[piece]]
name = "badge"
size = SIZE
ROW
[[piece.text]]
column = "name"
"""


def _recipe(tmp_path: Path, text: str = PLAIN) -> str:
    path = tmp_path / "badge.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


def _names(tmp_path: Path, *rows: str, head: str = "name") -> str:
    path = tmp_path / "names.csv"
    path.write_text("\n".join((head, *rows)) + "\n", encoding="utf-8")
    return str(path)


def _bytes(folder: Path) -> dict[str, str]:
    return {path.name: hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(folder.iterdir())}


@pytest.mark.parametrize(
    ("size", "row"), [("76", ""), pytest.param("60", ROW, marks=pytest.mark.slow)], ids=["discs", "husks"]
)
def test_24_rows_are_24_badges_on_a_sheet_a_colour(
    run: Callable[..., Any], tmp_path: Path, size: str, row: str
) -> None:
    """24 rows, 24 distinct texts, colours 8/8/8: 8 discs of 76 mm go on an A4 sheet in staggered rows, so 3 sheets."""
    recipe = _recipe(tmp_path, BADGE.replace("SIZE", size).replace("ROW", row))
    ran = run("make", recipe, "--names", str(NAMES), "--out", str(tmp_path / "out"), "--json")
    assert ran.code == 0, ran.err
    pieces = ran.json["pieces"]
    assert len({piece["name"] for piece in pieces}) == 24
    assert Counter(piece["card"] for piece in pieces) == {"moss": 8, "sand": 8, "brick": 8}
    marks = [_marks(tmp_path / "out" / piece["files"]["svg"]) for piece in pieces]
    assert len(set(marks)) == 24
    assert [sheet["card"] for sheet in ran.json["sheets"]] == ["moss", "sand", "brick"]
    assert [len(sheet["pieces"]) for sheet in ran.json["sheets"]] == [8, 8, 8]
    laid = {piece["name"] for sheet in ran.json["sheets"] for piece in sheet["pieces"]}
    assert laid == {piece["name"] for piece in pieces}
    assert "24 badges on 3 sheets: moss 1, sand 1, brick 1." in ran.err
    text = PdfReader(tmp_path / "out" / "contact-sheet.pdf").pages[0].extract_text()
    assert "24 pieces to tick off" in text
    for words in ("O'Radish, Minty", "Élodeà Crësswick", "sand-sheet-1"):
        assert words in text


def _marks(path: Path) -> str:
    root = ET.parse(path).getroot()
    (group,) = (g for g in root.iter(f"{SVG}g") if g.attrib["id"] == "mark")
    return "".join(p.attrib["d"] for p in group)


def test_columns_set_card_size_count_and_copies(run: Callable[..., Any], tmp_path: Path) -> None:
    text = f'{PLAIN}[[piece.row]]\nmotif = "scallop"\ncount = 6\nscale = 0.5\n'
    names = _names(tmp_path, "A,moss,50mm,8,2", "B,,,,", head="name,colour,size,count,copies")
    ran = run("make", _recipe(tmp_path, text), "--names", names, "--json")
    assert ran.code == 0, ran.err
    a, b = ran.json["pieces"]
    assert (a["card"], a["copies"], a["rows"][0]["count"]) == ("moss", 2, 8)
    assert (b["card"], b["copies"], b["rows"][0]["count"]) == (None, 1, 6)
    assert a["width_mm"] > b["width_mm"] + 9


def test_a_comma_that_splits_a_name_is_told_as_agreed(run: Callable[..., Any], tmp_path: Path) -> None:
    rows = [f"Name {k},1,moss" for k in range(9)]
    names = _names(tmp_path, *rows, "O'Radish, Minty,2,sand", head="name,table,colour")
    ran = run("make", _recipe(tmp_path), "--names", names)
    assert ran.code == 2
    said = "names.csv line 11: 4 values under 3 headings; the comma in O'Radish, Minty splits the name. "
    assert ran.err.strip().endswith(f'{said}Put the name in "double quotes".')


def test_a_failing_row_does_not_lose_the_others(run: Callable[..., Any], tmp_path: Path) -> None:
    names = _names(tmp_path, "Fine", "אבג", "Also fine", "x" * 300)
    ran = run("make", _recipe(tmp_path), "--names", names, "--out", str(tmp_path / "out"))
    assert ran.code == 3
    assert "names.csv line 3, " in ran.err
    assert 'no letter for "א"' in ran.err
    assert "names.csv line 5, " in ran.err
    assert "2 rows could not be made" in ran.out
    made = sorted(path.name for path in (tmp_path / "out").glob("tag-*.svg") if path.name.count(".") == 1)
    assert made == ["tag-01-fine.svg", "tag-03-also-fine.svg"]
    listed = {piece["piece"] for piece in json.loads((tmp_path / "out" / "run.json").read_text())["made"]}
    assert {"tag-01-fine", "tag-03-also-fine"} <= listed


def test_names_twice_and_empty_rows_are_told(run: Callable[..., Any], tmp_path: Path) -> None:
    ran = run("make", _recipe(tmp_path), "--names", _names(tmp_path, "Ann", "", "Ann", "Bo"))
    assert ran.code == 0, ran.err
    assert "Ann 2 times; a piece was made for each." in ran.out
    assert "line 3: empty, left out." in ran.out
    assert "3 pieces" in ran.out


def test_words_that_stand_in_for_the_names_are_told(run: Callable[..., Any], tmp_path: Path) -> None:
    ran = run("make", _recipe(tmp_path), "--names", _names(tmp_path, "Ann", "Bo"), "--text", "Hello")
    assert ran.code == 0, ran.err
    assert "the names are in the names of the files alone; the words on the pieces are those of the recipe." in ran.out
    assert len({_marks(tmp_path / "out" / f"tag-{name}.svg") for name in ("01-ann", "02-bo")}) == 1


def test_the_file_of_a_row_makes_it_again(run: Callable[..., Any], tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert run("make", _recipe(tmp_path), "--names", _names(tmp_path, "Ann"), "--out", str(out)).code == 0
    assert run("make", str(out / "tag-01-ann.svg"), "--out", str(tmp_path / "two")).code == 0
    assert (out / "tag-01-ann.svg").read_bytes() == (tmp_path / "two" / "tag-01-ann.svg").read_bytes()


def test_two_workers_write_what_one_writes(run: Callable[..., Any], tmp_path: Path) -> None:
    recipe, names = _recipe(tmp_path), _names(tmp_path, *"ABCDE")
    assert run("make", recipe, "--names", names, "--out", str(tmp_path / "one")).code == 0
    assert run("make", recipe, "--names", names, "--workers", "2", "--out", str(tmp_path / "two")).code == 0
    assert _bytes(tmp_path / "one") == _bytes(tmp_path / "two")


def test_a_cluster_writes_what_one_writes(run: Callable[..., Any], tmp_path: Path) -> None:
    distributed = pytest.importorskip("distributed")
    recipe, names = _recipe(tmp_path), _names(tmp_path, *"ABC")
    assert run("make", recipe, "--names", names, "--out", str(tmp_path / "one")).code == 0
    with distributed.LocalCluster(
        n_workers=1, threads_per_worker=1, processes=True, dashboard_address=None, silence_logs=50
    ) as cluster:
        ran = run(
            "make", recipe, "--names", names, "--scheduler", cluster.scheduler_address, "--out", str(tmp_path / "two")
        )
    assert ran.code == 0, ran.err
    assert _bytes(tmp_path / "one") == _bytes(tmp_path / "two")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--workers", "2"), "make, --workers: there is only one piece to make."),
        (("--scheduler", "tcp://127.0.0.1:1"), "make, --scheduler: there is only one piece to make."),
        (("--names", "NAMES", "--workers", "0"), 'make, --workers "0": workers are 1 to 64. Write --workers 2.'),
        (("--names", "none.csv"), "none.csv: no such file."),
    ],
)
def test_what_cannot_be_is_told_in_one_line(
    run: Callable[..., Any], tmp_path: Path, words: tuple[str, ...], said: str
) -> None:
    text = PLAIN.replace('column = "name"', 'words = "A"') if "NAMES" not in words else PLAIN
    given = [_names(tmp_path, "A") if word == "NAMES" else word for word in words]
    ran = run("make", _recipe(tmp_path, text), *given)
    assert ran.code in (2, 4)
    assert said in ran.err
    assert len(ran.err.strip().splitlines()) == 1


def test_a_heading_that_is_not_there_is_told_with_the_nearest(run: Callable[..., Any], tmp_path: Path) -> None:
    text = PLAIN.replace('"name"', '"naem"')
    ran = run("make", _recipe(tmp_path, text), "--names", _names(tmp_path, "A,1", head="name,table"))
    assert ran.code == 2
    assert 'no column of the list is headed so; the nearest is "name".' in ran.err


def test_the_journal_goes_when_the_run_has_ended(run: Callable[..., Any], tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert run("make", _recipe(tmp_path), "--names", _names(tmp_path, "A"), "--out", str(out)).code == 0
    assert not (out / "run-so-far.jsonl").exists()
    (out / "run-so-far.jsonl").write_text("mine\n")
    ran = run("make", _recipe(tmp_path), "--names", _names(tmp_path, "A"), "--out", str(out))
    assert ran.code == 4
    assert (out / "run-so-far.jsonl").read_text() == "mine\n"


def _killed_runs(tmp_path: Path, rows: int, kills: int, seed: int) -> int:
    """Kill a batch at random moments, again and again, then let it end; return how many rows it found made already."""
    recipe, names = _recipe(tmp_path), _names(tmp_path, *(f"Name {k}" for k in range(rows)))
    words = [*COMMAND, "make", recipe, "--names", names, "--out", str(tmp_path / "out")]
    whole = subprocess.run(
        [*words[:-1], str(tmp_path / "whole")], capture_output=True, text=True, timeout=300, check=True
    )
    assert "pieces" in whole.stdout
    rng = random.Random(seed)
    for _ in range(kills):
        child = subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        started = time.monotonic()
        journal = tmp_path / "out" / "run-so-far.jsonl"
        # Until the journal has a line, nothing of the run proper has been done.
        had = journal.stat().st_size if journal.exists() else 0
        while child.poll() is None and time.monotonic() - started < 60:
            if journal.exists() and journal.stat().st_size > had:
                break
            time.sleep(0.01)
        time.sleep(rng.uniform(0, 0.3))
        if child.poll() is None:
            os.kill(child.pid, signal.SIGKILL)
        child.wait()
        for path in (tmp_path / "out").glob("tag-*.svg"):
            ET.parse(path)
    ran = subprocess.run(words, capture_output=True, text=True, timeout=300, check=False)
    assert ran.returncode == 0, ran.stderr
    assert _bytes(tmp_path / "out") == _bytes(tmp_path / "whole")
    found = [line for line in ran.stdout.splitlines() if "were there already" in line]
    return int(found[0].split()[0]) if found else 0


def test_a_run_that_is_killed_goes_on_where_it_was(tmp_path: Path) -> None:
    assert _killed_runs(tmp_path, rows=12, kills=3, seed=7) >= 3


@pytest.mark.skipif(os.name == "nt", reason="signals of POSIX")
@pytest.mark.parametrize(
    ("signum", "code"),
    [
        (signal.SIGINT, 130),
        pytest.param(signal.SIGTERM, 143, marks=pytest.mark.slow),
        (signal.SIGKILL, -signal.SIGKILL),
    ],
)
def test_workers_end_with_their_run_and_finished_rows_stay(tmp_path: Path, signum: int, code: int) -> None:
    """Workers hold the pipes of the run open: they read empty only when the last of them has ended."""
    recipe, names = _recipe(tmp_path), _names(tmp_path, *(f"Name {k}" for k in range(200)))
    out = tmp_path / "out"
    words = [*COMMAND, "make", recipe, "--names", names, "--workers", "2", "--out", str(out)]
    child = subprocess.Popen(words, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)
    journal = out / "run-so-far.jsonl"
    end = time.monotonic() + 100
    while time.monotonic() < end and (not journal.exists() or journal.read_text().count('"key"') < 2):
        time.sleep(0.02)
    child.send_signal(signum)
    _, told = child.communicate(timeout=60)
    assert child.returncode == code
    assert code < 0 or told == "frameforge: stopped. Pieces that were finished are complete.\n"
    lines = [json.loads(line) for line in journal.read_text(encoding="utf-8").splitlines()[1:] if line.endswith("}")]
    made = [piece for line in lines if "key" in line for piece in line["pieces"]]
    assert 2 <= len(made) < 200
    # The last row may have been cut short between its line and its files.
    for piece in made[:-1]:
        for name, of in piece["files"].items():
            assert hashlib.sha256((out / name).read_bytes()).hexdigest() == of


@pytest.mark.slow
def test_a_run_that_is_killed_twenty_times_ends_whole(tmp_path: Path) -> None:
    assert _killed_runs(tmp_path, rows=60, kills=20, seed=11) >= 20
