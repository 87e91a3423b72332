"""The golden recipes with other versions of numpy and shapely: the same files but for the last decimal of a number.

FRAMEFORGE_LIBRARIES names folders (parted as in PATH), each filled by
``pip install --no-deps --target FOLDER shapely==2.1.0 numpy==1.26.0``. No source: ours.
"""

from __future__ import annotations

import os
import re
import subprocess
from pathlib import Path

import pytest
from fixtures.process import COMMAND
from fixtures.source import ROOT

pytestmark = pytest.mark.slow

RECIPES = sorted((ROOT / "tests" / "golden").glob("*/recipe.toml"))
FOLDERS = tuple(filter(None, os.environ.get("FRAMEFORGE_LIBRARIES", "").split(os.pathsep)))
NUMBER = re.compile(r"(?<![\w.])-?\d+(?:\.\d+)?(?![\w.])")
DIGEST = re.compile(r"sha256:[0-9a-f]{64}")


def greatest_step(one: str, other: str) -> float:
    """Return the greatest difference of two numbers in one place, in steps of their last decimal.

    Infinite where anything but numbers differs.
    """
    one, other = DIGEST.sub("", one), DIGEST.sub("", other)
    if NUMBER.sub("#", one) != NUMBER.sub("#", other):
        return float("inf")
    steps = [
        abs(float(a) - float(b)) * 10 ** max(len(a.partition(".")[2]), len(b.partition(".")[2]))
        for a, b in zip(NUMBER.findall(one), NUMBER.findall(other), strict=True)
        if a != b
    ]
    return round(max(steps, default=0.0), 6)


def test_a_step_of_the_last_decimal_and_more_are_told_apart() -> None:
    assert greatest_step("M 1.5 2", "M 1.5 2") == 0
    assert greatest_step("M 1.5 2.0001", "M 1.5 2") == 1
    assert greatest_step("M 1.5 2.0003", "M 1.5 2.0001") == 2
    assert greatest_step("L 1.5 2", "M 1.5 2") == float("inf")


@pytest.mark.parametrize("recipe", RECIPES, ids=[path.parent.name for path in RECIPES])
@pytest.mark.skipif(not FOLDERS, reason="outside data: FRAMEFORGE_LIBRARIES names no folder")
def test_golden_files_differ_by_a_last_decimal_at_most(recipe: Path, tmp_path: Path) -> None:
    made = []
    for index, libraries in enumerate((None, *FOLDERS)):
        out = tmp_path / str(index)
        env = {**os.environ, "PYTHONHASHSEED": str(index), **({"PYTHONPATH": libraries} if libraries else {})}
        words = [*COMMAND, "make", str(recipe), "--formats", "svg,dxf", "--out", str(out)]
        ran = subprocess.run(words, cwd=ROOT, env=env, capture_output=True, text=True, check=False)
        assert ran.returncode == 0, ran.stderr
        made.append({path.name: path.read_text("utf-8") for path in out.iterdir() if path.suffix in (".svg", ".dxf")})
    for index, other in enumerate(made[1:], start=1):
        assert other.keys() == made[0].keys()
        assert max(greatest_step(made[0][name], other[name]) for name in other) <= 1, FOLDERS[index - 1]
