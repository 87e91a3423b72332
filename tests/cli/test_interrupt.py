"""A search that is ended early: Ctrl-C keeps the best layout, anything harsher leaves whole files or none."""

from __future__ import annotations

import json
import os
import select
import signal
import subprocess
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from fixtures.process import COMMAND, process

from frameforge.read.cut_dxf import read_cut_dxf
from frameforge.read.cut_svg import read_cut_svg
from frameforge.write.marker import is_marked

pytestmark = pytest.mark.skipif(os.name == "nt", reason="signals and terminals of POSIX")

WAIT_S = 60.0


@contextmanager
def searching(folder: Path) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """Start a search without end in a terminal of its own; yield it, with what the terminal shows, once it is at it."""
    for name, (width, height) in {"seal": (60, 60), "label": (70, 40), "tag": (34, 34)}.items():
        oval = f'<ellipse cx="40" cy="40" rx="{width / 2}" ry="{height / 2}" fill="none" stroke="#000"/>'
        page = '<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="80mm" viewBox="0 0 80 80">'
        (folder / f"{name}.svg").write_text(f"{page}{oval}</svg>", encoding="utf-8")
    files = "seal.svg:9", "label.svg:8", "tag.svg:7"
    words = ["nest", *files, "--sheet", "A4", "--card", "moss", "--tries", "1000000", "--out", "laid", "--json"]
    reading, terminal = os.openpty()
    child = subprocess.Popen(
        [*COMMAND, *words], cwd=folder, stdout=subprocess.PIPE, stderr=terminal, text=True,
        env={**os.environ, "TERM": "xterm", "COLUMNS": "120"},
    )  # fmt: skip
    os.close(terminal)
    shown = ""
    end = time.monotonic() + WAIT_S
    while "so far" not in shown and time.monotonic() < end and child.poll() is None:
        if select.select([reading], [], [], 0.2)[0]:
            shown += os.read(reading, 65536).decode("utf-8", "replace")
    try:
        yield child, shown
    finally:
        child.kill()
        child.wait()
        os.close(reading)


def whole_files(folder: Path) -> list[str]:
    """Return the names of the cut files in a folder after holding each to be whole; nothing half done lies beside."""
    if not folder.is_dir():
        return []
    names = sorted(file.name for file in folder.iterdir())
    assert not [name for name in names if name.startswith(".frameforge")]
    for name in names:
        data = (folder / name).read_bytes()
        if name.endswith((".svg", ".dxf")) and not name.startswith("sheet-plan"):
            assert is_marked(data)
            lines = (read_cut_svg if name.endswith(".svg") else read_cut_dxf)(data, where=name).lines
            assert lines
            assert all(line.is_closed for line in lines)
    return names


def test_ctrl_c_writes_the_best_layout_and_ends_with_130(tmp_path: Path) -> None:
    with searching(tmp_path) as (child, shown):
        assert "laying moss" in shown
        child.send_signal(signal.SIGINT)
        out, _ = child.communicate(timeout=WAIT_S)
        assert child.returncode == 130
    told = json.loads(out)
    assert told["interrupted"] is True
    pieces = [piece for sheet in told["sheets"] for piece in sheet["pieces"]]
    copies = {"seal": 9, "label": 8, "tag": 7}
    wanted = [(name, copy) for name, count in copies.items() for copy in range(1, count + 1)]
    assert sorted((piece["name"], piece["copy"]) for piece in pieces) == sorted(wanted)
    written = {name for sheet in told["sheets"] for name in sheet["files"].values()}
    assert written == {name for name in whole_files(tmp_path / "laid") if name.startswith("moss-sheet")}


@pytest.mark.slow
def test_an_end_by_force_leaves_whole_files_or_none(tmp_path: Path) -> None:
    with searching(tmp_path) as (child, _):
        child.send_signal(signal.SIGTERM)
        child.communicate(timeout=WAIT_S)
        assert child.returncode == 143
    assert whole_files(tmp_path / "laid") == []


@pytest.mark.slow
def test_an_end_at_any_moment_leaves_whole_files_or_none(tmp_path: Path) -> None:
    """Killed while files are being put into place, at ten moments of a run; the next run clears away and goes on."""
    assert process("make", "--size", "60mm", "--name", "seal", "--formats", "svg", cwd=tmp_path).returncode == 0
    words = ["nest", "out/seal.svg:60", "--sheet", "A4", "--tries", "0", "--out", "laid", "--formats", "svg,dxf"]
    begun = time.monotonic()
    assert process(*words, cwd=tmp_path).returncode == 0
    whole_s = time.monotonic() - begun
    for k in range(10):
        child = subprocess.Popen([*COMMAND, *words, "--force"], cwd=tmp_path, stdout=subprocess.DEVNULL,
                                 stderr=subprocess.DEVNULL)  # fmt: skip
        time.sleep(whole_s * (0.5 + 0.05 * k))
        child.kill()
        child.wait()
        for name in (tmp_path / "laid").glob("*.svg"):
            assert is_marked(name.read_bytes())
    assert process(*words, cwd=tmp_path).returncode == 0
    assert whole_files(tmp_path / "laid")
