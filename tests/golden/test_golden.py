"""Recipes and the cut files that came of them when they were last looked at.

Every letter and every count must be the same. Coordinates may differ by one step of their last decimal: other
processors round sines differently in the last bit, and a value half-way between two steps then falls the other way.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from golden.renew import CASES, KINDS, expected, made

DECIMAL = re.compile(r"-?\d+\.\d+(?:e-?\d+)?")
DIGEST = re.compile(r"sha256:[0-9a-f]{64}")
STEP_MM = {"svg": 1.01e-4, "dxf": 1.01e-6}


@pytest.mark.parametrize("case", CASES)
def test_a_recipe_gives_what_it_gave(case: str, tmp_path: Path) -> None:
    texts = made(case, tmp_path)
    for kind in KINDS:
        wanted = DIGEST.sub("", expected(case, kind).read_bytes().decode("utf-8"))
        got = DIGEST.sub("", texts[kind])
        assert DECIMAL.sub("#", got) == DECIMAL.sub("#", wanted)
        for ours, golden in zip(DECIMAL.findall(got), DECIMAL.findall(wanted), strict=True):
            assert float(ours) == pytest.approx(float(golden), abs=STEP_MM[kind], rel=0)


def test_there_are_those_that_were_looked_at() -> None:
    assert {"badge", "invitation", "jar-collar", "mended-beetles", "oval-sign", "seal"} <= set(CASES)
