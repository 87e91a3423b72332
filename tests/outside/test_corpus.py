"""Two hundred drawings and some of nine sets that nobody here drew, put round a circle and an oval.

Read as motifs, their areas against those that resvg paints; made with 12 round 120 mm and round 150 x 100 mm by the
same call as the command, the scale found for a gap of 2 mm; the files read back by svgpathtools and by GDAL. What falls
apart must be refused in one line, and what is offered then must hold. All of them, with the table:

    .venv/bin/python -m pytest -m slow -s tests/outside/test_corpus.py

``FRAMEFORGE_CORPUS_TABLE=FILE`` writes the table there too; with ``FRAMEFORGE_CORPUS_JOURNAL=FILE`` a run that was
stopped goes on where it was.
"""

from __future__ import annotations

import math
import os
import sys
from functools import lru_cache
from pathlib import Path

import pytest
from fixtures.corpus import EACH, SETS, Drawn, Set, chosen
from fixtures.corpus_journal import tried_with
from fixtures.corpus_table import Trial, faults_of, table
from fixtures.corpus_trial import SHAPES, Reading, reading_of, ring_of
from fixtures.silhouette import RENDERER, painted_area

from frameforge.errors import FrameforgeError


@lru_cache(maxsize=1)
def read(drawn: Drawn, folder: Path) -> tuple[Reading, Path]:
    """Return how a drawing was read, once for all shapes that it is put round."""
    return reading_of(drawn, folder)


def tried(drawn: Drawn, folder: Path, shape: str) -> Trial:
    trial = Trial(drawn)
    try:
        trial.reading, path = read(drawn, folder)
    except FrameforgeError as fault:
        trial.fault = str(fault)
        return trial
    trial.rings[shape] = ring_of(path, shape, folder / "made")
    return trial


@pytest.mark.parametrize("of", SETS, ids=lambda of: of.name)
def test_one_of_each_set_is_read_made_and_read_back(of: Set, tmp_path: Path) -> None:
    """The second in the order of the seed; what is of several parts is only read, since its refusal takes longest."""
    drawn = chosen(of, 2)[1]
    reading, path = reading_of(drawn, tmp_path)
    rings = {"circle": ring_of(path, "circle", tmp_path / "made")} if reading.parts == 1 else {}
    assert all(ring.is_made for ring in rings.values())
    assert faults_of(Trial(drawn, reading, rings)) == []


@pytest.mark.slow
def test_all_are_made_or_refused_in_one_line(tmp_path: Path) -> None:
    drawings = [drawn for of in SETS for drawn in chosen(of)]
    assert len({(drawn.of.name, drawn.name) for drawn in drawings}) == len(SETS) * EACH >= 200
    journal = os.environ.get("FRAMEFORGE_CORPUS_JOURNAL")
    trials = [*tried_with(journal, drawings, tuple(SHAPES), lambda drawn, shape: tried(drawn, tmp_path, shape))]
    text = table(trials)
    sys.stdout.write(f"\n{text}\n")
    if kept := os.environ.get("FRAMEFORGE_CORPUS_TABLE"):
        Path(kept).write_text(f"{text}\n", encoding="utf-8")
    faults = {str(trial.drawn): found for trial in trials if (found := faults_of(trial))}
    assert faults == {}


@pytest.mark.parametrize(
    ("body", "area"),
    [
        ('<circle cx="12.013" cy="11.97" r="9.31"/>', math.pi * 9.31**2),
        ('<rect x="3.117" y="2.331" width="1.5" height="17.77" fill-opacity=".2"/>', 1.5 * 17.77),
        ('<path d="M3.1 3.3 20.77 19.1" stroke="#000" stroke-width=".5"/>', 0.5 * math.hypot(17.67, 15.8)),
        ('<circle cx="12" cy="12.1" r="9" fill="none" opacity=".4" stroke="#000" stroke-width=".5"/>', 9 * math.pi),
    ],
)
def test_the_renderer_is_right_on_what_is_known(body: str, area: float) -> None:
    text = f'<svg xmlns="http://www.w3.org/2000/svg" width="48" height="48" viewBox="0 0 24 24">{body}</svg>'
    assert painted_area(text) == pytest.approx(area, rel=RENDERER)
