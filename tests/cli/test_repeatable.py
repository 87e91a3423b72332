"""The same input gives the same bytes in another process, folder, hash seed, locale and home. No source: ours."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from fixtures.process import process

WORDS = ("make", "--motif", "bean-leaf", "--count", "8", "--size", "76mm", "--opening", "40mm", "--mend", "all")


def _bytes(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def test_another_process_writes_the_same_bytes(run: Callable[..., Any], tmp_path: Path) -> None:
    assert run(*WORDS, "--out", str(tmp_path / "here")).code == 0
    elsewhere = tmp_path / "some where é"
    elsewhere.mkdir()
    ran = process(
        *WORDS, "--out", "there", cwd=elsewhere,
        PYTHONHASHSEED="4711", LC_ALL="C", HOME=str(elsewhere), TZ="Pacific/Auckland", COLUMNS="40",
    )  # fmt: skip
    assert ran.returncode == 0, ran.stderr
    here = _bytes(tmp_path / "here")
    assert {name.rpartition(".")[2] for name in here} >= {"svg", "dxf", "png", "md", "json"}
    assert _bytes(elsewhere / "there") == here


@pytest.mark.slow
def test_the_demo_is_the_same_under_any_hash_seed(tmp_path: Path) -> None:
    made = []
    for seed in ("0", "1", "77"):
        folder = tmp_path / seed
        folder.mkdir()
        assert process("demo", cwd=folder, PYTHONHASHSEED=seed).returncode == 0
        made.append(_bytes(folder / "out" / "demo"))
    assert made[1] == made[0]
    assert made[2] == made[0]
