"""Folders, names and surroundings as odd as they come: one line, the right exit code, files as they should be."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest

from frameforge.write.marker import is_marked

pytestmark = pytest.mark.skipif(os.name == "nt", reason="rights, names and folders of POSIX")

DISC = ("make", "--size", "50mm", "--name", "disc", "--formats", "svg")
MOTIF = Path(__file__).resolve().parents[2] / "motifs" / "arch.svg"
SEVERAL = """
import contextlib, io, json, sys
from frameforge.cli.entry import main
for words in json.loads(sys.argv[1]):
    out, told = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(told):
        code = main(words)
    print(json.dumps([code, out.getvalue(), told.getvalue()]))
"""
ODD = "two words é\nand\x1b[31m a\tblank \udcff"
"""What names of files may hold: blanks, accents, signs that steer a terminal, bytes that are no text."""


TO_WRITE = "the name is too long for this disk. Choose a shorter one with --name or --out."
TO_READ = "longer than the name of a file can be. Look at the name."


def _several(
    lines: Sequence[Sequence[str]], folder: Path, environment: dict[str, str], before: Sequence[str] = ()
) -> list[tuple[int, str, str]]:
    """Run command lines one after the other in one process; returns (exit code, stdout, stderr) of each."""
    command = [*before, sys.executable, "-c", SEVERAL, json.dumps(lines)]
    ran = subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, timeout=120, check=True)
    return [tuple(json.loads(line)) for line in ran.stdout.splitlines()]


def _unprivileged() -> list[str]:
    """Return what to put before a command so that rights count for it: root may do anything."""
    if os.geteuid() != 0:
        return []
    if shutil.which("setpriv") is None:
        pytest.skip("root may read and write anything, and setpriv is not here to give that up")
    return ["setpriv", "--bounding-set=-dac_override,-dac_read_search"]


def test_what_may_not_be_read_or_written_is_one_line(tmp_path: Path) -> None:
    before = _unprivileged()
    for name, mode in {"shut": 0o555, "blind": 0o333, "listed": 0o755, "mine": 0o755}.items():
        (tmp_path / name).mkdir(mode=mode)
    drawing, recipe, record, own = (
        tmp_path / name for name in ("leaf.svg", "tag.toml", "listed/run.json", "mine/frameforge")
    )
    for path, text in {drawing: MOTIF.read_text(encoding="utf-8"), recipe: "[[piece]]\nsize = 50\n"}.items():
        path.write_text(text, encoding="utf-8")
        path.chmod(0)
    record.write_text("{}", encoding="utf-8")
    record.chmod(0)
    own.mkdir()
    own.chmod(0)
    may_not_write = "you may not write here. Choose another folder with --out."
    may_not_read = "you may not read this file. Ask whose it is, or take a copy of your own."
    earlier = "you may not read what earlier runs made here. Choose another folder with --out."
    asked = {
        (*DISC, "--out", "shut"): (4, f"shut: {may_not_write}\n"),
        (*DISC, "--out", "shut/deeper"): (4, f"shut/deeper: {may_not_write}\n"),
        (*DISC, "--out", "blind"): (4, f"blind: {may_not_write}\n"),
        (*DISC, "--out", "listed"): (4, f"listed/run.json: {earlier}\n"),
        ("make", "tag.toml"): (4, f"tag.toml: {may_not_read}\n"),
        ("make", "--motif", "leaf.svg", "--size", "50mm"): (4, f"leaf.svg: {may_not_read}\n"),
        ("check", "leaf.svg"): (4, f"leaf.svg: {may_not_read}\n"),
        ("make", "--size", "50mm", "--text", "A", "--font", "leaf.svg"): (
            4,
            f'make, --font "leaf.svg": {may_not_read}\n',
        ),
        # Her own motifs and presets cannot be read here; ours can.
        ("make", "--motif", "arch", "--count", "6", *DISC[1:]): (0, ""),
    }
    environment = {**os.environ, "XDG_DATA_HOME": str(tmp_path / "mine")}
    try:
        told = _several([list(words) for words in asked], tmp_path, environment, before)
    finally:
        own.chmod(0o700)
    assert [(code, line) for code, _, line in told] == list(asked.values())
    assert sorted(path.name for path in tmp_path.glob("*/*")) == [
        "disc.svg",
        "frameforge",
        "report.md",
        "run.json",
        "run.json",
    ]


def test_it_needs_no_home_and_leaves_nothing_in_one(tmp_path: Path) -> None:
    """Nor a folder for passing things, nor a cache; what libraries keep in a home is not kept in hers."""
    (tmp_path / "home").mkdir(mode=0o555)
    nowhere = {"TMPDIR": "/no-such-folder", "XDG_CACHE_HOME": "/no-such-folder", "XDG_CONFIG_HOME": "/no-such-folder"}
    words = ["make", "--motif", "arch", "--count", "6", "--size", "50mm", "--name", "gate"]
    [(code, _, told)] = _several([words], tmp_path, {**nowhere, "HOME": str(tmp_path / "home")}, _unprivileged())
    assert (code, told) == (0, "")
    assert not list((tmp_path / "home").iterdir())
    made = {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir() if path.suffix != ".json"}
    assert sorted(made) == ["gate.dxf", "gate.png", "gate.svg", "report.md"]
    assert all(map(is_marked, made.values()))


def test_a_folder_that_has_gone_is_said(run: Callable[..., Any], tmp_path: Path) -> None:
    gone = tmp_path / "gone"
    gone.mkdir()
    os.chdir(gone)
    gone.rmdir()
    nowhere = "frameforge: the folder you are in is gone. Go to another one, and type it there."
    assert run("desk", "--no-open")[::2] == (4, f"{nowhere}\n")
    into = "the folder has gone while it was being written to. Choose another folder with --out."
    assert run(*DISC).faults == [f"out: {into}"]
    assert run("make", "tag.toml").faults == ["tag.toml: no such file. Look at its name and folder."]
    assert run(*DISC, "--out", str(tmp_path / "out")).code == 0
    assert (tmp_path / "out" / "disc.svg").is_file()


def test_any_name_that_a_file_can_have_will_do(run: Callable[..., Any], tmp_path: Path) -> None:
    try:
        shutil.copy(MOTIF, tmp_path / f"{ODD}.svg")
    except (OSError, UnicodeError):
        pytest.skip("this disk takes no such name")
    for words in (
        ("make", "--motif", f"{ODD}.svg", "--size", "50mm", "--count", "4", "--formats", "svg", "--out", ODD),
        ("mend", f"{ODD}.svg", "--out", "mended"),
        ("nest", f"{ODD}.svg:3", "--sheet", "A5", "--formats", "svg"),
    ):
        ran = run(*words)
        assert (ran.code, ran.err) == (0, ""), words
        assert not [sign for sign in ran.out if not sign.isprintable() and sign != "\n"], words
    written = [path.name for folder in ("out", "mended", ODD) for path in (tmp_path / folder).iterdir()]
    assert len(written) > 8
    assert all(map(str.isprintable, written))
    refused = run("check", f"{ODD}/none.svg")
    assert (refused.code, len(refused.faults)) == (4, 1)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((*DISC, "--out", "x" * 300), TO_WRITE),
        ((*DISC, "--out", "y/" * 1500), TO_WRITE),
        ((*DISC, "--out", "y/" * 3000), TO_WRITE),
        (("make", f"{'x' * 300}.toml"), TO_READ),
        (("make", "--motif", f"{'x' * 300}.svg", "--size", "50mm"), TO_READ),
        (("check", f"{'x' * 300}.svg"), TO_READ),
    ],
    ids=["name", "folders", "path", "recipe", "drawing", "file"],
)
def test_a_name_that_no_disk_takes_is_said(
    run: Callable[..., Any], tmp_path: Path, words: tuple[str, ...], said: str
) -> None:
    ran = run(*words)
    assert (ran.code, len(ran.faults)) == (4, 1)
    assert ran.faults[0].endswith(f": {said}")
    assert not list(tmp_path.iterdir())


def test_the_longest_name_that_a_file_has_leaves_room_for_ours(run: Callable[..., Any], tmp_path: Path) -> None:
    """255 bytes are the most on common disks; pictures of findings have longer endings than the drawing."""
    name = "é" * 125
    shutil.copy(MOTIF, tmp_path / f"{name}.svg")
    assert run("check", f"{name}.svg").code == 0
    assert f"{'é' * 60}.check.svg" in {path.name for path in (tmp_path / "out").iterdir()}


def test_two_files_of_one_name_keep_both_pictures(run: Callable[..., Any], tmp_path: Path) -> None:
    (tmp_path / "one").mkdir()
    for path in ("a\nb.svg", "a-b.svg", "one/A-B.svg"):
        shutil.copy(MOTIF, tmp_path / path)
    assert run("check", "a\nb.svg", "a-b.svg", "one/A-B.svg").code == 0
    found = {path.name for path in (tmp_path / "out").glob("*.check.svg")}
    assert found == {"a-b.check.svg", "a-b-2.check.svg", "A-B-3.check.svg"}


def test_a_clock_that_goes_back_changes_nothing(
    run: Callable[..., Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An hour further back each time it is asked, and files dated later than now."""
    words = ("make", "--motif", "arch", "--count", "6", "--size", "50mm", "--name", "gate")
    assert run(*words).code == 0
    before = {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()}
    for path in (tmp_path / "out").iterdir():
        os.utime(path, (4e9, 4e9))
    shown = [1e9]

    def back() -> float:
        shown.append(shown[-1] - 3600)
        return shown[-1]

    monkeypatch.setattr(time, "time", back)
    monkeypatch.setattr(time, "time_ns", lambda: int(back() * 1e9))
    for _ in range(2):
        assert run(*words).code == 0
        assert {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()} == before
