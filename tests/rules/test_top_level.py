"""The top of the checkout holds what it should and nothing else. No source but our own layout."""

from __future__ import annotations

import subprocess

import pytest
from fixtures.source import ROOT

ALLOWED = {"README.md", "DEVELOPERS.md", "pyproject.toml", "frameforge", "motifs", "tests", "out"}


def _tracked() -> list[str]:
    """Return all files that git keeps."""
    if not (ROOT / ".git").exists():
        pytest.skip("this is no checkout: nobody tells which files are kept")
    run = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True)
    return run.stdout.splitlines()


def test_the_top_level_is_as_agreed() -> None:
    tops = {name.split("/")[0] for name in _tracked()}
    assert {top for top in tops if not top.startswith(".")} == ALLOWED


def test_results_are_not_kept_but_for_the_gallery() -> None:
    kept = [name for name in _tracked() if name.startswith("out/")]
    assert [name for name in kept if not name.startswith("out/gallery/")] == ["out/README.md"]
    assert sum((ROOT / name).stat().st_size for name in kept) < 2_000_000


def test_tests_are_plain_modules() -> None:
    """Tests are imported by path (importlib mode), so no folder of tests is a package."""
    names = [name for name in _tracked() if name.startswith("tests/")]
    assert not [name for name in names if name.endswith("__init__.py")]
    aside = ("tests/fixtures/", "tests/coverage/", "tests/mutation/")
    python = [name.rsplit("/", 1)[-1] for name in names if name.endswith(".py") and not name.startswith(aside)]
    assert all(
        name.startswith(("test_", "bench_")) or name in ("browser.py", "conftest.py", "renew.py", "renew_pictures.py")
        for name in python
    )
