"""Card cut from its back: every line of the cut files is the mirror image, words and sheets too; the face is told."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from fontTools.pens.recordingPen import RecordingPen
from fontTools.svgLib.path import parse_path

Run = Callable[..., Any]
POD = ("make", "--motif", "pea-pod", "--count", "9", "--size", "80mm", "--rim", "20mm", "--name", "hoop")
"""Leans, so that its mirror image is another piece."""
ASKED = [(), ("--kerf", "0.2mm", "--overcut", "0.4mm"), ("--text", "Leaf", "--bridges", "3 x 0.6mm")]


def points(path: Path) -> tuple[np.ndarray[Any, Any], float]:
    """Return every point of the lines of a file, x and y, in their order, and how wide the page is."""
    text = path.read_text(encoding="utf-8")
    pen = RecordingPen()
    for d in re.findall(r' d="([^"]*)"', text):
        parse_path(d, pen)
    found = [point for _, given in pen.value for point in given]
    return np.array(found), float(re.search(r'viewBox="0 0 ([\d.]+) ', text)[1])  # type: ignore[index]


def mirrored(path: Path) -> np.ndarray[Any, Any]:
    """Return the points as they lie when the page is turned over."""
    at, wide = points(path)
    return np.asarray(np.array([wide, 0]) + at * [-1, 1])


def in_order(at: np.ndarray[Any, Any]) -> list[tuple[float, float]]:
    return sorted(map(tuple, np.round(at, 2).tolist()))


@pytest.mark.parametrize("asked", ASKED, ids=["bare", "machine", "words"])
def test_the_cut_file_is_the_mirror_image(asked: tuple[str, ...], run: Run) -> None:
    assert run(*POD, *asked, "--formats", "svg").code == 0
    ran = run(*POD, *asked, "--formats", "svg,dxf", "--flip", "--out", "over")
    assert ran.code == 0
    assert "Flipped: lay the card face down; the cut files are the mirror image of what the picture shows." in ran.out
    assert "Flipped: lay the card face down" in Path("over/report.md").read_text(encoding="utf-8")
    face, _ = points(Path("out/hoop.svg"))
    over = mirrored(Path("over/hoop.svg"))
    assert len(face) == len(over)
    far = np.min(np.abs(face[:, None, 0] - over[None, :, 0]) + np.abs(face[:, None, 1] - over[None, :, 1]), axis=1)
    assert far.max() < 1e-3
    assert in_order(face) != in_order(points(Path("over/hoop.svg"))[0])


def test_a_flipped_file_makes_itself_again_and_can_be_turned_back(run: Run) -> None:
    run(*POD, "--formats", "svg,dxf", "--flip")
    for kind in ("svg", "dxf"):
        assert run("make", f"out/hoop.{kind}", "--out", "again").code == 0
        assert Path(f"again/hoop.{kind}").read_bytes() == Path(f"out/hoop.{kind}").read_bytes()


def test_sheets_and_rings_lie_face_down_too(run: Run) -> None:
    rings = ("make", "--rings", "40-80 by 20", "--motif", "pea-pod", "--count", "9", "--name", "hoop")
    for words in (POD, rings):
        for flip, out in (((), "out"), (("--flip",), "over")):
            assert run(*words, *flip, "--sheet", "A4", "--turn", "none", "--formats", "svg", "--out", out).code == 0
        face, over = (points(Path(f"{out}/sheet-1.svg"))[0] for out in ("out", "over"))
        face, over = (at - at.min(axis=0) for at in (face, over * [-1, 1]))
        assert len(face) == len(over)
        far = np.min(np.abs(face[:, None, 0] - over[None, :, 0]) + np.abs(face[:, None, 1] - over[None, :, 1]), axis=1)
        assert far.max() < 2e-3
        Path("out/sheet-1.svg").unlink()
        Path("over/sheet-1.svg").unlink()


def test_one_piece_of_a_recipe_is_flipped_alone(run: Run) -> None:
    table = '[[piece]]\nname = "{}"\nsize = 40\n{}[[piece.row]]\nmotif = "pea-pod"\ncount = 5\n'
    Path("r.toml").write_text(table.format("a", "") + table.format("b", "flip = true\n"), encoding="utf-8")
    ran = run("make", "r.toml", "--formats", "svg")
    assert ran.out.count("Flipped") == 1
    assert in_order(points(Path("out/a.svg"))[0]) != in_order(points(Path("out/b.svg"))[0])
    assert in_order(points(Path("out/a.svg"))[0]) == in_order(mirrored(Path("out/b.svg")))


def test_flip_below_a_row_is_told_where_it_belongs(run: Run) -> None:
    Path("r.toml").write_text('[[piece]]\nsize = 40\n[[piece.row]]\nmotif = "arch"\nflip = true\n', encoding="utf-8")
    assert run("make", "r.toml").faults == [
        'r.toml line 5, row 1: "flip" belongs to the piece, not to its row. Move it above [[piece.row]].'
    ]
