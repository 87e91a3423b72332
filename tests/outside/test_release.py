"""Wheel and source archive installed into empty environments of every Python there is, and the same bytes from each.

Pythons from 3.11 on are looked for on the path and in FRAMEFORGE_PYTHONS (programs, parted as in PATH). The packages
needed come from the package index, so all of this is slow. No source: ours.
"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from fixtures.source import ROOT

import frameforge

pytestmark = pytest.mark.slow

GOLDEN = ROOT / "tests" / "golden"
ASKED = """
import sys, frameforge
from pathlib import Path
from frameforge.desk.manual import manual_file
from frameforge.desk.page_files import page_files
from frameforge.motif.catalogue import names
print(frameforge.__version__, len(names()), len(page_files({})), manual_file("first-piece").kind)
print(Path(frameforge.__file__).parent)
"""
"""What an installed frameforge is asked, away from the checkout."""


def _pythons() -> Iterator[str]:
    """Yield this Python, then every newer one that answers, the newest last."""
    given = filter(None, os.environ.get("FRAMEFORGE_PYTHONS", "").split(os.pathsep))
    found = {sys.version_info[:2]: sys.executable}
    for program in (*given, *filter(None, (shutil.which(f"python3.{minor}") for minor in range(11, 20)))):
        run = subprocess.run(
            [program, "-c", "import sys; print(*sys.version_info[:2])"], capture_output=True, check=False
        )
        if run.returncode == 0:
            version = tuple(map(int, run.stdout.split()))
            if version >= (3, 11):
                found.setdefault((version[0], version[1]), program)
    yield from (found[version] for version in sorted(found))


PYTHONS = tuple(_pythons())


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """Wheel and source archive of a copy of the checkout."""
    place = tmp_path_factory.mktemp("checkout")
    for folder in ("frameforge", "motifs", "tests", "out/gallery"):
        shutil.copytree(ROOT / folder, place / folder, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md", "DEVELOPERS.md"):
        shutil.copy(ROOT / name, place / name)
    script = "import hatchling.build as b; print(b.build_wheel('built')); print(b.build_sdist('built'))"
    run = subprocess.run([sys.executable, "-c", script], cwd=place, capture_output=True, text=True, check=True)
    wheel, archive = (place / "built" / line for line in run.stdout.split())
    return {"wheel": wheel, "archive": archive}


def _installed(python: str, what: Path, place: Path) -> Path:
    """Install ``what`` into an empty environment and return the folder of its programs."""
    subprocess.run([python, "-m", "venv", str(place)], check=True)
    programs = place / ("Scripts" if os.name == "nt" else "bin")
    subprocess.run([str(programs / "python"), "-m", "pip", "install", "--quiet", str(what)], check=True)
    return programs


@pytest.fixture(scope="module")
def environments(built: dict[str, Path], tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """The wheel in an empty environment of each Python."""
    return [_installed(python, built["wheel"], tmp_path_factory.mktemp("venv") / "v") for python in PYTHONS]


def _ran(programs: Path, where: Path, *words: str) -> str:
    env = {key: value for key, value in os.environ.items() if not key.startswith("PYTHON")}
    run = subprocess.run(
        [str(programs / "frameforge"), *words], cwd=where, env=env, capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stderr
    return run.stdout


def _digests(folder: Path) -> dict[str, str]:
    """Return the digest of every cut file below a folder, by its name."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.suffix in (".svg", ".dxf")
    }


def test_the_demo_works_from_the_wheel_on_every_python(environments: list[Path], tmp_path: Path) -> None:
    made = []
    for index, programs in enumerate(environments):
        where = tmp_path / str(index)
        where.mkdir()
        told = _ran(programs, where, "demo")
        assert "gate-sign" in told
        assert _ran(programs, where, "--version").split() == ["frameforge", frameforge.__version__]
        asked = subprocess.run(
            [str(programs / "python"), "-c", ASKED], cwd=where, capture_output=True, text=True, check=True
        ).stdout.splitlines()
        version, motifs, page, kind = asked[0].split(maxsplit=3)
        assert (version, int(motifs), kind) == (frameforge.__version__, 17, "text/html; charset=utf-8")
        assert int(page) >= 15
        assert Path(asked[1]).is_relative_to(programs.parent)
        made.append(_digests(where / "out" / "demo"))
        assert len(made[-1]) >= 10
    assert all(digests == made[0] for digests in made)


def test_the_golden_recipes_come_out_the_same_on_every_python(environments: list[Path], tmp_path: Path) -> None:
    recipes = sorted(GOLDEN.glob("*/recipe.toml"))
    made = []
    for index, programs in enumerate(environments):
        for recipe in recipes:
            out = tmp_path / str(index) / recipe.parent.name
            _ran(programs, tmp_path, "make", str(recipe), "--formats", "svg,dxf", "--out", str(out))
        made.append(_digests(tmp_path / str(index)))
    assert len(made[0]) >= 2 * len(recipes) > 0
    for digests in made[1:]:
        assert {name for name in made[0] if digests.get(name) != made[0][name]} == set()


def test_the_source_archive_installs_too(built: dict[str, Path], tmp_path: Path) -> None:
    programs = _installed(PYTHONS[-1], built["archive"], tmp_path / "v")
    told = _ran(programs, tmp_path, "make", "--motif", "arch", "--size", "100mm")
    assert re.search(r"17 arches round 100 mm", told)
