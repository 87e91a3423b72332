"""The README's pages to print are what is printed; pdftoppm (poppler) draws them. No source: ours."""

from __future__ import annotations

import shutil
from pathlib import Path

import numpy as np
import pytest
from fixtures.gallery import GALLERY, PAGES, made_gallery
from fixtures.manual_examples import shown
from fixtures.source import ROOT
from PIL import Image

pytestmark = pytest.mark.slow


def test_the_pages_shown_are_those_that_are_printed(tmp_path: Path) -> None:
    if shutil.which("pdftoppm") is None:
        pytest.skip("pdftoppm is not there (apt install poppler-utils)")
    made = {path.name: shown(path) for path in made_gallery(tmp_path)}
    assert set(made) == set(PAGES)
    for name, fresh in made.items():
        kept = Image.open(GALLERY / name)
        assert kept.size == fresh.size, f"{name}: tests/golden/renew_pictures.py gallery"
        apart = np.abs(np.asarray(fresh.convert("L"), dtype=int) - np.asarray(kept.convert("L"), dtype=int)) > 48
        assert apart.mean() < 0.005, f"{name}: tests/golden/renew_pictures.py gallery"
        assert np.asarray(kept.convert("L")).std() > 10


@pytest.mark.parametrize("name", PAGES)
def test_the_readme_shows_it(name: str) -> None:
    assert f"](out/gallery/{name})" in (ROOT / "README.md").read_text(encoding="utf-8")
