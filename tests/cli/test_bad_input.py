"""Numbers that cannot be: each gets its own number, what is allowed, and something that works when it is typed."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

ALLOWED = [
    (
        ["--size", "100mm", "--gap=-1"],
        "below 0 the repeats would lie over each other",
        ["--size", "100mm", "--gap", "0"],
    ),
    (
        ["--size", "100mm", "--foot", "0"],
        "a foot of 0 mm has nothing to stand on",
        ["--size", "100mm", "--foot", "12mm"],
    ),
    (["--size", "100mm", "--count", "0"], "a row takes 1 to 2000 repeats", ["--size", "100mm", "--count", "most"]),
    (
        ["--size", "100mm", "--count", "1000000"],
        "a row takes 1 to 2000 repeats",
        ["--size", "100mm", "--count", "most"],
    ),
    (["--size", "100mm", "--scale", "0"], "0 is not above 0 and up to 100", ["--size", "100mm", "--scale", "0.7"]),
    (["--size", "100mm", "--scale=-1"], "-1 is not above 0 and up to 100", ["--size", "100mm", "--scale", "0.7"]),
    (["--size", "5000mm"], "5000 mm is more than the 3000 mm that can be made", ["--size", "100mm"]),
]


@pytest.mark.parametrize(("words", "part", "instead"), ALLOWED)
def test_what_is_out_of_range_is_told_with_its_range(
    run: Callable[..., Any], words: list[str], part: str, instead: list[str]
) -> None:
    ran = run("make", "--motif", "arch", *words)
    assert (ran.code, len(ran.faults)) == (2, 1)
    assert part in ran.faults[0]
    assert "Write " in ran.faults[0]
    assert not Path("out").exists()
    assert run("make", "--motif", "arch", *instead, "--formats", "svg").code == 0


@pytest.mark.parametrize(
    "words",
    [
        ["--size", "150x12mm", "--count", "8"],
        ["--size", "100mm", "--scale", "0.05"],
        ["--size", "100mm", "--foot", "0.4mm"],
        ["--size", "12mm"],
        ["--size", "100mm", "--count", "2000"],
        ["--size", "100mm", "--count", "12", "--gap", "25", "--scale", "find"],
    ],
)
def test_what_the_card_cannot_do_is_told_with_an_offer_that_holds(run: Callable[..., Any], words: list[str]) -> None:
    ran = run("make", "--motif", "arch", *words)
    assert (ran.code, len(ran.faults)) == (3, 1)
    offers = re.findall(r"(--[a-z]+) (\d+(?:\.\d+)?(?:x\d+(?:\.\d+)?)?(?:mm)?)", ran.faults[0].partition("Take ")[2])
    assert offers, ran.faults
    for key, value in offers:
        line = list(words)
        if key == "--scale" and "--foot" in line:
            line = line[: line.index("--foot")] + line[line.index("--foot") + 2 :]
        if key in line:
            line[line.index(key) + 1] = value
        else:
            line += [key, value]
        again = run("make", "--motif", "arch", *line, "--formats", "svg")
        assert again.code == 0, (key, value, again.err)
