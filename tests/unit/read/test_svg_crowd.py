"""Tangles are refused before they are united, busy but honest drawings are not."""

from __future__ import annotations

import pytest

from frameforge.errors import InputError
from frameforge.geometry.outline import Outline
from frameforge.geometry.shapes import circle, rectangle
from frameforge.read.svg_crowd import refuse_crowd


def test_a_tangle_of_lines_is_refused() -> None:
    """900 lines from side to side, each crossing most others: some 200,000 crossings."""
    tangle = Outline.from_points(complex(i % 2 * 100, i * 37 % 101 + i * 1e-3) for i in range(900))
    with pytest.raises(InputError, match=r"^leaf\.svg: its lines cross each other some \d+ times, 25000 is the most"):
        refuse_crowd([tangle], where="leaf.svg")


def test_a_basket_weave_and_a_lace_of_discs_pass() -> None:
    weave = [rectangle(-5, i * 4, 125, i * 4 + 1) for i in range(30)]
    weave += [rectangle(i * 4, -5, i * 4 + 1, 125) for i in range(30)]
    refuse_crowd(weave, where="leaf.svg")
    refuse_crowd([circle(complex(i % 30 * 4, i // 30 * 4), 2.2) for i in range(900)], where="leaf.svg")
