"""What a change on the desk costs until its picture is seen in a browser, and until its findings are."""

from __future__ import annotations

import statistics
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from desk.browser import CHROMIUM, address, browser, page
from fixtures.cpu import cpu_s

from frameforge.desk.findings import findings
from frameforge.desk.question import untold
from frameforge.desk.see import see
from frameforge.job.motif_source import MotifSource

__all__ = ["address", "browser", "page"]

Holds = Callable[[str, float, float], None]

SCRIPT = Path(__file__).with_name("desk_feel.js").read_text(encoding="utf-8")
PIECES = {"bean-leaf": (300, 250), "arch": (420, 380), "twig-scroll": (520, 480), "scallop": (420, 380)}
"""Motifs, each with a size and an opening (mm) that 56 of them go round."""

COUNTS = [("count", str(count)) for count in range(40, 57)]
SCALES = [("scale", f"{0.8 + k / 100:.2f}") for k in range(1, 13)]
GAPS = [("gap", f"{5 + k / 2:.1f}mm") for k in range(1, 13)]
EMPTIES = 40


def _recipe(motif: str) -> str:
    size, opening = PIECES[motif]
    return f'[[piece]]\ncard = "moss"\nsize = "{size}mm"\nopening = "{opening}mm"\n\n[[piece.row]]\nmotif = "{motif}"\n'


def _p95(times_ms: list[float]) -> float:
    return statistics.quantiles(times_ms, n=20)[-1]


@pytest.mark.long
@pytest.mark.skipif(CHROMIUM is None, reason="Debian's chromium is not installed")
@pytest.mark.parametrize("motif", PIECES)
def bench_feel(holds: Holds, page: Any, motif: str) -> None:
    """Counts stepped from 40 to 56, scales and gaps put in, each from the change to what is painted of it."""
    pictures: list[float] = []
    judged: list[float] = []
    empty: list[float] = []
    for changes, more in ((COUNTS, "count = 39\n"), (SCALES, "count = 48\nscale = 0.8\n"), (GAPS, "gap = 5\n")):
        found = page.evaluate(SCRIPT, {"text": _recipe(motif) + more, "changes": changes, "empties": EMPTIES})
        pictures += found["pictures"]
        judged += found["findings"]
        empty += found["empty"]
    trip = statistics.median(empty)
    told = f"(median {statistics.median(pictures):.0f} ms, an empty round trip {trip:.1f} ms)"
    holds(f"{motif}, change to picture, p95 / an empty round trip", _p95(pictures) / trip, 30)
    holds(f"{motif}, picture to findings, p95 / an empty round trip", _p95(judged) / trip, 120)
    holds(f"{motif}, change to picture, p95 in ms {told}", _p95(pictures), 100)
    holds(f"{motif}, picture to findings, p95 in ms", _p95(judged), 400)


def bench_picture(holds: Holds, tmp_path: Path) -> None:
    """Working time of the picture of 48 leaves, against that of the findings that follow it."""
    source = MotifSource(tmp_path)
    for motif in ("bean-leaf", "arch"):
        texts = iter([_recipe(motif) + f"count = 48\nscale = {0.8 + k / 1000:.3f}\n" for k in range(100)])
        seen = cpu_s(lambda texts=texts: see({"recipe": next(texts), "width": 560}, source))  # type: ignore[misc]

        def both(texts: Any = texts) -> None:
            text = next(texts)
            see({"recipe": text, "width": 560}, source)
            findings({"recipe": text, "width": 560}, source, untold)

        holds(f"picture of 48 of {motif} / with findings", seen / cpu_s(both), 0.5)
