"""Disks that are really full, really read-only, and files that the system holds: small, mounted for the test alone.

A mount needs rights that not every machine gives: where it does not, these skip and say so. They are marked slow, since
a build machine may be such a one; ``test_disk.py`` has the same faults as far as they can be had without.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from fixtures.process import process

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(shutil.which("unshare") is None, reason="unshare is not here to mount for one process alone"),
]

FULL = "the disk is full. Make room on it, or choose another folder with --out."
IN_USE = "another program has this file open. Close it there."
NAMES = "name\n" + "".join(f"Name {k}\n" for k in range(6))
RECIPE = '[files]\nformats = ["svg"]\n[[piece]]\nname = "tag"\nsize = "40mm"\n[[piece.text]]\ncolumn = "name"\n'
COMMANDS = {
    "make": ["make", "--motif", "arch", "--count", "8", "--size", "76mm"],
    "batch": ["make", "tag.toml", "--names", "names.csv", "--workers", "2"],
    "nest": ["nest", "disc.svg:9", "--sheet", "A4"],
    "guide": ["guide", "--foot", "20", "--size", "100mm", "--count", "14"],
    "mend": ["mend", "disc.svg"],
}
PREPARED = """
import json, os, subprocess, sys
from pathlib import Path
from frameforge.write.marker import is_marked

def sh(*words):
    subprocess.run(words, check=True)

def ran(*words):
    made = subprocess.run([sys.executable, "-m", "frameforge.cli.entry", *words], capture_output=True, text=True)
    return [made.returncode, made.stderr]

def found(folder):
    return {path.name: path.read_bytes().hex() for path in sorted(Path(folder).glob("*"))}

def whole(folder):
    kinds = (".svg", ".dxf", ".png", ".pdf", ".md")
    return all(is_marked(path.read_bytes()) for path in Path(folder).glob("*") if path.suffix in kinds)
"""


def _mounted(script: str, folder: Path, *words: str) -> Any:
    """Run a script that may mount, in a process that alone sees what it mounts; returns the JSON that it prints."""
    alone = ["unshare", "--mount"] if os.geteuid() == 0 else ["unshare", "--mount", "--map-root-user"]
    if subprocess.run([*alone, "mount", "-t", "tmpfs", "tmpfs", "/mnt"], capture_output=True, check=False).returncode:
        pytest.skip("this machine lets nobody mount")
    command = [*alone, sys.executable, "-c", PREPARED + script, *words]
    ran = subprocess.run(command, cwd=folder, capture_output=True, text=True, timeout=600, check=False)
    assert ran.returncode == 0, ran.stderr
    return json.loads(ran.stdout)


def _prepared(folder: Path) -> None:
    (folder / "small").mkdir()
    (folder / "tag.toml").write_text(RECIPE, encoding="utf-8")
    (folder / "names.csv").write_text(NAMES, encoding="utf-8")
    made = process("make", "--size", "60mm", "--name", "disc", "--formats", "svg", "--out", ".", cwd=folder)
    assert made.returncode == 0


@pytest.mark.parametrize("command", sorted(COMMANDS))
def test_on_a_disk_of_any_size_it_is_one_line_or_all_is_there(tmp_path: Path, command: str) -> None:
    """From 4 kB up to what the run needs; then on the same disk, made larger, the run ends what it began."""
    _prepared(tmp_path)
    script = """
words = json.loads(sys.argv[1])
told = []
sh("mount", "-t", "tmpfs", "-o", "size=4k", "tmpfs", "small")
for size in (4, 8, 16, 32, 64, 96, 128, 200, 400):
    sh("mount", "-o", f"remount,size={size}k", "small")
    code, line = ran(*words, "--out", "small/out")
    names = list(found("small/out"))
    told.append([code, line, names, whole("small/out")])
    if code == 0:
        break
print(json.dumps(told))
"""
    *refused, made = _mounted(script, tmp_path, json.dumps(COMMANDS[command]))
    assert len(refused) >= 3
    for code, line, names, is_whole in refused:
        assert (code, is_whole) == (4, True)
        assert line in (f"small/out: {FULL}\n", f"small/out/run-so-far.jsonl: {FULL}\n")
        assert not [name for name in names if name.startswith(".") or name == "run.json"]
    assert (made[0], made[1], made[3]) == (0, "", True)
    assert "run.json" in made[2]
    assert not [name for name in made[2] if name.startswith(".") or name == "run-so-far.jsonl"]


def test_what_was_made_before_the_disk_was_full_stays_as_it_was(tmp_path: Path) -> None:
    """Whatever is left free, all files of a piece are the old ones, or all are the new ones."""
    _prepared(tmp_path)
    script = """
sh("mount", "-t", "tmpfs", "-o", "size=400k", "tmpfs", "small")
base = ["make", "--size", "50mm", "--name", "disc", "--out", "small/out"]
assert ran(*base) == [0, ""]
old = found("small/out")
other = ["make", "--size", "50mm", "--opening", "20mm", "--name", "disc", "--out"]
assert ran(*other, "new") == [0, ""]
new = found("new")
told = []
for free_kb in (0, 8, 20, 40, 64, 80):
    state = os.statvfs("small")
    with open("small/filling", "wb") as file:
        file.write(bytes(state.f_bavail * state.f_frsize - free_kb * 1024))
    code, line = ran(*other, "small/out")
    now = found("small/out")
    piece = [name for name in now if name.startswith("disc")]
    is_old, is_new = ([now[name] == them[name] for name in piece] for them in (old, new))
    told.append([code, line, list(now), all(is_old), all(is_new)])
    os.remove("small/filling")
    assert ran(*base)[0] == 0
print(json.dumps(told))
"""
    told = _mounted(script, tmp_path)
    assert [code for code, *_ in told][:3] == [4, 4, 4]
    for code, line, names, is_old, is_new in told:
        assert (code, line) in ((4, f"small/out: {FULL}\n"), (0, ""))
        assert is_old or is_new
        assert names == ["disc.dxf", "disc.png", "disc.svg", "report.md", "run.json"]
    assert told[0][3]


@pytest.mark.parametrize(
    ("how", "said"),
    [
        ("sh('mount', '-o', 'bind,ro', 'small', 'small')", "this disk can only be read."),
        ("sh('mount', '-o', 'bind', 'keep.svg', 'small/disc.svg')", IN_USE),
    ],
    ids=["read-only", "in use"],
)  # fmt: skip
def test_a_disk_or_a_file_that_refuses_leaves_all_as_it_was(tmp_path: Path, how: str, said: str) -> None:
    """A file that is a place of mounting cannot be replaced (EBUSY), as on Windows one that is open elsewhere."""
    _prepared(tmp_path)
    script = f"""
import shutil
base = ["make", "--size", "50mm", "--name", "disc", "--out", "small"]
assert ran(*base) == [0, ""]
old = found("small")
shutil.copy("small/disc.svg", "keep.svg")
{how}
print(json.dumps([*ran(*base, "--opening", "20mm"), found("small") == old]))
"""
    assert _mounted(script, tmp_path) == [4, f"small: {said} Choose another folder with --out.\n", True]


def test_workers_do_without_memory_that_processes_share(tmp_path: Path) -> None:
    """Small containers have none, or a full one (``/dev/shm``)."""
    _prepared(tmp_path)
    script = """
sh("mount", "-t", "tmpfs", "-o", "size=4k", "tmpfs", "/dev/shm")
with open("/dev/shm/filling", "wb") as file:
    file.write(bytes(4096))
print(json.dumps(ran(*json.loads(sys.argv[1]), "--out", "out")))
"""
    code, line = _mounted(script, tmp_path, json.dumps(COMMANDS["batch"]))
    assert (code, line.count("\n")) in ((0, 0), (4, 1))
    assert "fault of our own" not in line
