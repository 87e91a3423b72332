"""What reading a drawing costs, against parsing its XML and doing nothing with it."""

from __future__ import annotations

from collections.abc import Callable

from defusedxml.ElementTree import fromstring
from fixtures.cpu import cpu_s

from frameforge.read.svg import read_drawing

Holds = Callable[[str, float, float], None]

ELEMENTS = 200
MS_PER_OUTLINE = 5.0


def _drawing() -> bytes:
    """Return a drawing of 100 groups, each with a leaf of cubics and quadratics that has a square hole."""
    leaf = "M0 2C1 0 3 0 4 2S7 4 6 6Q4 8 2 6T0 2Z M2 2v1h1v-1z"
    groups = "".join(
        f'<g transform="translate({i % 20 * 10} {i // 20 * 10})"><path fill="#567" d="{leaf}"/></g>'
        for i in range(ELEMENTS // 2)
    )
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="50mm" viewBox="0 0 200 50">'
    return f"{head}{groups}</svg>".encode()


def bench_read(holds: Holds) -> None:
    """A drawing of 200 elements: at most three times the parsing, and 5 ms an outline."""
    data = _drawing()
    outlines = sum(len(region.outlines) for region in read_drawing(data, where="leaves.svg").join)
    assert outlines == ELEMENTS
    parse = cpu_s(lambda: fromstring(data, forbid_entities=False))
    read = cpu_s(lambda: read_drawing(data, where="leaves.svg"))
    holds("reading 200 elements beyond three times parsing them, ms an outline", (read - 3 * parse) * 1e3 / outlines,
          MS_PER_OUTLINE)  # fmt: skip
