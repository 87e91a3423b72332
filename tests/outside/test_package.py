"""The package as others get it: wheel, source archive, editable install, bare checkout.

Built by hatchling itself; what stands in a wheel: PyPA specifications, "Binary distribution format" and PEP 639.
"""

from __future__ import annotations

import email
import os
import re
import shutil
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest
from fixtures.source import ROOT

import frameforge

SCRIPT = """
import frameforge, sys
from frameforge.motif.catalogue import load_motif, names
print(frameforge.__file__)
print(" ".join(names()))
print(sum(len(load_motif(name).join) > 0 for name in names()))
"""
NAMES = tuple(sorted(path.stem for path in (ROOT / "motifs").glob("*.svg")))


@pytest.fixture(scope="module")
def checkout(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the checkout, without what is not built from."""
    place = tmp_path_factory.mktemp("checkout")
    for folder in ("frameforge", "motifs"):
        shutil.copytree(ROOT / folder, place / folder, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md"):
        shutil.copy(ROOT / name, place / name)
    shutil.copytree(ROOT / "out" / "gallery", place / "out" / "gallery")
    (place / "tests").mkdir()
    (place / "tests" / "test_nothing.py").write_text("")
    return place


def _build(where: Path, kind: str) -> Path:
    """Build one kind (wheel, sdist, editable) with hatchling in ``where`` and return the file."""
    script = f"import hatchling.build as b; print(b.build_{kind}('built'))"
    run = subprocess.run([sys.executable, "-c", script], cwd=where, capture_output=True, text=True, check=False)
    assert run.returncode == 0, run.stderr
    return where / "built" / run.stdout.split()[-1]


def _motifs_seen(where: Path, *, runs_site: bool = False) -> Path:
    """Check what the catalogue lists with ``where`` first on the path, and return the package's own folder."""
    elsewhere = where.parent
    before = f"import site; site.addsitedir({str(where)!r}); import sys; sys.path.insert(0, sys.path.pop())\n"
    env = {**os.environ, "PYTHONPATH": "" if runs_site else str(where)}
    script = (before if runs_site else "") + SCRIPT
    run = subprocess.run(
        [sys.executable, "-c", script], cwd=elsewhere, env=env, capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stderr
    package, names, usable = run.stdout.splitlines()
    assert tuple(names.split()) == NAMES
    assert int(usable) == len(NAMES) >= 6
    return Path(package).parent


@pytest.fixture(scope="module")
def wheel(checkout: Path) -> Path:
    """The wheel of the checkout, built once."""
    return _build(checkout, "wheel")


def test_from_a_wheel(wheel: Path, tmp_path: Path) -> None:
    place = tmp_path / "installed"
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(place)
        held = set(archive.namelist())
    assert _motifs_seen(place) == place / "frameforge"
    info = next(name.split("/")[0] for name in held if name.endswith(".dist-info/METADATA"))
    for needed in (
        "frameforge/LICENSE", "frameforge/py.typed", "frameforge/card/presets.toml", "frameforge/motifs/arch.svg",
        "frameforge/manual/thin-web.md", "frameforge/manual/pictures/thin-web.svg",
        "frameforge/picture/fonts/OFL.txt", "frameforge/picture/fonts/Overpass-Bold.ttf",
        "frameforge/manual/first-piece.md", "frameforge/manual/pictures/arch-17-on-100mm.png",
        "frameforge/desk/page/index.html", "frameforge/desk/page/look.css", "frameforge/desk/page/main.js",
        f"{info}/entry_points.txt", f"{info}/licenses/frameforge/LICENSE",
        f"{info}/licenses/frameforge/picture/fonts/OFL.txt",
    ):  # fmt: skip
        assert needed in held, needed
    assert not [name for name in held if re.search(r"(^|/)tests?[/_]", name) or name.startswith(("out/", "motifs/"))]


def test_the_wheel_holds_all_that_is_kept_of_the_package(wheel: Path) -> None:
    kept = {
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / "frameforge").rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    motifs = {f"frameforge/motifs/{name}.svg" for name in NAMES}
    with zipfile.ZipFile(wheel) as archive:
        held = {name for name in archive.namelist() if ".dist-info/" not in name}
    # What somebody began beside the test since the copy was made is not asked for.
    assert held - kept - motifs == set()
    assert held >= motifs
    assert {name for name in kept - held if _is_known_to_git(name)} == set()


def _is_known_to_git(name: str) -> bool:
    run = subprocess.run(["git", "ls-files", "--error-unmatch", name], cwd=ROOT, capture_output=True, check=False)
    return run.returncode != 1


def test_the_metadata_tell_version_licences_and_the_first_line_of_the_readme(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        (name,) = (entry for entry in archive.namelist() if entry.endswith(".dist-info/METADATA"))
        told = email.message_from_bytes(archive.read(name))
        licence = archive.read(name.replace("METADATA", "licenses/frameforge/LICENSE"))
    assert told["Version"] == frameforge.__version__
    assert f"/frameforge-{frameforge.__version__}-py3-none-any.whl" in wheel.as_posix()
    assert told["License-Expression"] == "MIT AND OFL-1.1"
    assert set(told.get_all("License-File", [])) == {"frameforge/LICENSE", "frameforge/picture/fonts/OFL.txt"}
    assert told["Requires-Python"] == ">=3.11"
    assert str(told.get_payload()).startswith("# frameforge\n")
    assert licence == (ROOT / "frameforge" / "LICENSE").read_bytes()


def test_the_version_stands_in_one_place_and_the_manual_tells_of_it() -> None:
    typed = [
        path.relative_to(ROOT).as_posix()
        for path in (*(ROOT / "frameforge").rglob("*.py"), ROOT / "pyproject.toml")
        if re.search(
            rf'^[^#\n]*["\']{re.escape(frameforge.__version__)}["\']', path.read_text(encoding="utf-8"), re.MULTILINE
        )
    ]
    assert typed == ["frameforge/__init__.py"]
    news = (ROOT / "frameforge" / "manual" / "changelog.md").read_text(encoding="utf-8")
    assert re.findall(r"^## (.*)$", news, re.MULTILINE)[0] == frameforge.__version__


def test_from_a_source_archive(checkout: Path, tmp_path: Path) -> None:
    archive = _build(checkout, "sdist")
    with tarfile.open(archive) as opened:
        opened.extractall(tmp_path, filter="data")
    unpacked = next(tmp_path.iterdir())
    assert (unpacked / "tests" / "test_nothing.py").exists()
    # The README shows its pictures where it is unpacked, too.
    for shown in re.findall(r"\]\((out/[^)]+)\)", (unpacked / "README.md").read_text(encoding="utf-8")):
        assert (unpacked / shown).is_file(), shown
    wheel = _build(unpacked, "wheel")
    with zipfile.ZipFile(wheel) as built:
        held = {name for name in built.namelist() if name.startswith("frameforge/motifs/")}
    assert held == {f"frameforge/motifs/{name}.svg" for name in NAMES}


def test_from_an_editable_install(checkout: Path, tmp_path: Path) -> None:
    wheel = _build(checkout, "editable")
    place = tmp_path / "installed"
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(place)
    assert _motifs_seen(place, runs_site=True) == checkout / "frameforge"


def test_from_a_bare_checkout(checkout: Path) -> None:
    assert _motifs_seen(checkout) == checkout / "frameforge"
