"""``make --mend``: said, offered, typed back."""

from __future__ import annotations

import shlex
from collections.abc import Callable
from typing import Any

from frameforge.cli.retyped import retyped

BEETLES = ("make", "--motif", "beetle", "--count", "4", "--size", "70mm", "--opening", "40mm", "--formats", "svg")


def test_a_run_that_could_be_mended_ends_with_the_line_that_does_it(run: Callable[..., Any]) -> None:
    offered = run(*BEETLES).out.splitlines()[-1].strip()
    assert offered.startswith("frameforge make ")
    assert offered.count("--mend all") == 1
    typed = run(*shlex.split(offered)[1:])
    assert typed.code == 0
    assert "mended 8 x thin-finger: " in typed.out
    assert "--mend" not in typed.out.splitlines()[-1]
    assert "warning" not in typed.out


def test_a_word_that_is_none_is_refused_with_the_nearest(run: Callable[..., Any]) -> None:
    ran = run(*BEETLES, "--mend", "thin-fingr")
    assert ran.code == 2
    (fault,) = ran.faults
    assert "the nearest is thin-finger" in fault


def test_strict_runs_pass_once_mended(run: Callable[..., Any]) -> None:
    assert run(*BEETLES, "--strict").code == 3
    assert run(*BEETLES, "--strict", "--mend", "all").code == 0


def test_a_line_is_retyped_as_it_was_meant() -> None:
    options = {
        "size": "2 1/4 in",
        "motif": ("arch", "snail"),
        "one_path": True,
        "json": False,
        "name": None,
        "hole": (),
    }
    line = retyped("make", None, options)
    assert shlex.split(line) == [
        "frameforge", "make", "--size", "2 1/4 in", "--motif", "arch", "--motif", "snail", "--one-path",
    ]  # fmt: skip
