"""Notes that are only told are kept apart from findings, each said once."""

from __future__ import annotations

from frameforge.finding import Finding
from frameforge.job.told import told_apart

SLIT = Finding("narrow-slot", "warning", "a slit.")


def test_what_is_not_on_the_list_is_only_told() -> None:
    said = (Finding("took", "note", "took 17."), SLIT, Finding("took", "note", "took 17."))
    assert told_apart(said) == ((SLIT,), ("took 17.",))


def test_what_has_a_place_is_told_with_it() -> None:
    assert told_apart([Finding("drawing", "note", "filled.", "daisy")]) == ((), ("daisy: filled.",))
