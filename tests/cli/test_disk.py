"""Disks and files that refuse: one line, exit code 4, and the folder as it was before."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from fixtures.process import COMMAND

MADE = ("make", "--size", "50mm", "--name", "disc", "--formats", "svg,dxf")
LIMITED = """
import resource, sys
resource.setrlimit(resource.RLIMIT_FSIZE, ({bytes}, {bytes}))
sys.argv = ["frameforge", *{words!r}]
from frameforge.cli.entry import main
sys.exit(main())
"""


@pytest.mark.skipif(os.name == "nt", reason="a limit of POSIX")
def test_a_file_that_the_disk_does_not_take_leaves_the_folder_as_it_was(
    run: Callable[..., Any], tmp_path: Path
) -> None:
    """The limit of a process stands for a full disk: the system refuses in the middle of a file (EFBIG)."""
    assert run(*MADE).code == 0
    before = {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()}
    script = LIMITED.format(bytes=800, words=(*MADE, "--opening", "20mm"))
    ran = subprocess.run([sys.executable, "-c", script], cwd=tmp_path, capture_output=True, text=True, timeout=60)
    said = "out: the file would be larger than may be written here. Choose another folder with --out.\n"
    assert (ran.returncode, ran.stdout, ran.stderr) == (4, "", said)
    assert {path.name: path.read_bytes() for path in (tmp_path / "out").iterdir()} == before


@pytest.mark.skipif(not os.path.exists("/dev/zero"), reason="this system has no /dev/zero")
def test_a_file_without_end_is_not_read_to_its_end(run: Callable[..., Any]) -> None:
    ran = run("check", "/dev/zero")
    assert (ran.code, ran.faults) == (4, ["/dev/zero: larger than any file that is read here. Look at the name."])


@pytest.mark.slow
def test_two_runs_into_one_folder_at_once_both_end_well(tmp_path: Path) -> None:
    """Eight pairs: other pieces, and the same piece; all files are there, listed, and may be replaced by the next."""
    for k in range(8):
        names = ("badge", "seal") if k % 2 else ("badge", "badge")
        runs = [
            subprocess.Popen(
                [*COMMAND, *MADE[:3], "--name", name, "--opening", f"{20 + n}mm", "--out", "out"],
                cwd=tmp_path, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True,
            )
            for n, name in enumerate(names)
        ]  # fmt: skip
        for child in runs:
            _, told = child.communicate(timeout=120)
            assert (child.returncode, told) == (0, "")
        found = {path.name for path in (tmp_path / "out").iterdir()}
        assert {f"{name}.{kind}" for name in names for kind in ("svg", "dxf", "png")} <= found
        assert not [name for name in found if name.startswith(".")]
