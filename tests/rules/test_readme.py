"""What the README tells to type works as it stands, and what it shows is what is made."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
import tomllib
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from fixtures.source import ROOT
from PIL import Image

from frameforge.job.demo import demo

README = (ROOT / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```(\w*)\n(.*?)^```$", README, flags=re.DOTALL | re.MULTILINE)
LINES = [line for kind, block in BLOCKS if kind != "toml" for line in block.splitlines() if line.strip()]
EXAMPLES = [line for line in LINES if line.startswith("frameforge ")]
SCRIPT = "import sys; from frameforge.cli.entry import main; sys.exit(main())"


def _run(words: list[str], where: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", SCRIPT, *words], cwd=where, capture_output=True, text=True, timeout=120, check=False
    )


@pytest.mark.parametrize("line", EXAMPLES)
def test_an_example_works_as_it_stands(line: str, tmp_path: Path) -> None:
    run = _run(shlex.split(line)[1:], tmp_path)
    assert (run.returncode, run.stderr) == (0, "")
    assert run.stdout
    if " make " in line:
        kinds = {path.suffix for path in (tmp_path / "out").iterdir()}
        assert {".svg", ".dxf", ".png", ".md", ".json"} <= kinds


def test_the_recipe_works_as_it_stands(tmp_path: Path) -> None:
    recipes = [block for kind, block in BLOCKS if kind == "toml"]
    assert len(recipes) == 1
    (tmp_path / "recipe.toml").write_text(recipes[0], encoding="utf-8")
    run = _run(["make", "recipe.toml"], tmp_path)
    assert run.returncode == 0, run.stderr
    name = tomllib.loads(recipes[0])["piece"][0]["name"]
    again = _run(["make", f"out/{name}.svg", "--out", "again"], tmp_path)
    assert again.returncode == 0, again.stderr
    assert (tmp_path / "again" / f"{name}.svg").read_bytes() == (tmp_path / "out" / f"{name}.svg").read_bytes()


def test_two_commands_set_up_and_the_windows_lines_say_the_same() -> None:
    """PowerShell 5 has no &&: there, each step is a line of its own."""
    commands = [line for line in LINES if line.startswith("python3 -m venv .venv && ")]
    assert len(commands) == 2
    assert commands[0].endswith("frameforge demo")
    assert "pytest" in commands[1]
    windows = [line for line in LINES if line.startswith((".venv\\Scripts\\", "py "))]
    assert not [line for line in windows if "&&" in line]
    steps = [
        step.replace("/", "\\").replace(".venv\\bin", ".venv\\Scripts") for c in commands for step in c.split(" && ")
    ]
    assert [step for step in steps if not step.startswith("python3")] == [w for w in windows if not w.startswith("py ")]


def test_the_picture_shows_what_is_made(tmp_path: Path) -> None:
    """The picture of the page is the demo's contact sheet: at most one pixel in a thousand differs visibly."""
    demo(tmp_path, lambda done, total, name: None)
    made = Image.open(BytesIO((tmp_path / "contact-sheet.png").read_bytes())).convert("L")
    shown = Image.open(ROOT / "out" / "gallery" / "contact-sheet.png").convert("L")
    assert made.size == shown.size
    apart = np.abs(np.asarray(made, dtype=int) - np.asarray(shown, dtype=int)) > 32
    assert apart.mean() < 0.001
    assert "out/gallery/contact-sheet.png" in README


def test_every_linked_file_is_there() -> None:
    named = re.findall(r"\]\(([^)#]+)\)", README) + re.findall(r"`((?:tests|frameforge)/[\w/.-]+)`", README)
    assert len(named) >= 2
    for name in named:
        assert (ROOT / name).exists(), name


def test_there_are_examples() -> None:
    assert len(EXAMPLES) >= 4
