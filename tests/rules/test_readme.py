"""What the README tells to type works as it stands, and what it shows is what is made."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
import tomllib
from pathlib import Path

import numpy as np
import pytest
from fixtures.source import ROOT
from PIL import Image

from frameforge.job.demo import demo
from frameforge.job.motif import list_motifs

README = (ROOT / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```(\w*)\n(.*?)^```$", README, flags=re.DOTALL | re.MULTILINE)
LINES = [line for kind, block in BLOCKS if kind != "toml" for line in block.splitlines() if line.strip()]
EXAMPLES = [line for line in LINES if line.startswith("frameforge ")]
SCRIPT = "import sys; from frameforge.cli.entry import main; sys.exit(main())"


def _run(words: list[str], where: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", SCRIPT, *words], cwd=where, capture_output=True, text=True, timeout=120, check=False
    )


LONGER = (
    "--copies",
    "--mend",
    "--fold",
    "--layers",
    "--as window",
    "--rings",
    "--rest filler",
    "--names",
    "--seat bent",
)
"""Options of examples that other default tests make too; the slow run types them."""


@pytest.mark.parametrize(
    "line",
    [
        pytest.param(line, marks=pytest.mark.slow) if any(option in line for option in LONGER) else line
        for line in EXAMPLES
    ],
)
def test_an_example_works_as_it_stands(line: str, tmp_path: Path) -> None:
    for name in ("badge.toml", "names.csv"):
        # What the maker has before she types: her recipe, and the first of her list.
        text = (ROOT / "tests" / "fixtures" / "swap" / name).read_text(encoding="utf-8")
        (tmp_path / name).write_text(
            "\n".join(text.splitlines()[: None if name == "badge.toml" else 4]), encoding="utf-8"
        )
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


def _is_shown(made: Path) -> None:
    """Compare with the picture of that name in the gallery: at most one pixel in a thousand differs visibly."""
    shown = Image.open(ROOT / "out" / "gallery" / made.name).convert("L")
    fresh = Image.open(made).convert("L")
    assert fresh.size == shown.size
    apart = np.abs(np.asarray(fresh, dtype=int) - np.asarray(shown, dtype=int)) > 32
    assert apart.mean() < 0.001
    assert f"out/gallery/{made.name}" in README


def test_the_pictures_show_what_is_made(tmp_path: Path) -> None:
    demo(tmp_path, lambda done, total, name: None)
    _is_shown(tmp_path / "contact-sheet.png")
    list_motifs(None, tmp_path / "list")
    _is_shown(tmp_path / "list" / "motifs.png")


def test_every_linked_file_is_there() -> None:
    named = re.findall(r"\]\(([^)#]+)\)", README) + re.findall(r"`((?:tests|frameforge)/[\w/.-]+)`", README)
    assert len(named) >= 2
    for name in named:
        assert (ROOT / name).exists(), name


def test_there_are_examples() -> None:
    assert len(EXAMPLES) >= 4
