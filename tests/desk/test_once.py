"""What is made once for many changes: a motif is read once, and cut into chords once for each size of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from frameforge.frame import ornament
from frameforge.frame.profile import Profile
from frameforge.motif import catalogue

from .conftest import RECIPE

Ask = Callable[..., dict[str, Any]]


def test_a_motif_is_read_and_cut_into_chords_once(ask: Ask, monkeypatch: pytest.MonkeyPatch) -> None:
    """Counts change the places of a motif, not the motif; a scale is a motif of its own."""
    flattened: list[int] = []
    of_outlines = Profile.from_outlines

    def counted(outlines: Any) -> Profile:
        flattened.append(len(outlines))
        return of_outlines(outlines)

    ornament.ready.cache_clear()
    catalogue._read.cache_clear()
    monkeypatch.setattr(Profile, "from_outlines", counted)
    recipe = RECIPE
    for count in (13, 14, 15):
        seen = ask("see", recipe=recipe, options={"count": str(count)})
        assert seen["pieces"][0]["rows"][0]["count"] == count
        recipe = seen["recipe"]
    assert len(flattened) == 1
    assert catalogue._read.cache_info().misses == 1
    assert ask("see", recipe=recipe, options={"scale": "0.9"})["pieces"]
    assert len(flattened) == 2
    assert catalogue._read.cache_info().misses == 1
