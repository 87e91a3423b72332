"""How a maker may end a long search early: the best so far is kept."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager

__all__ = ["Stoppable", "never_stopped"]

Stoppable = Callable[[], AbstractContextManager[Callable[[], bool]]]
"""Gives, for the time of a search, the function that says whether the maker has asked for its end."""


@contextmanager
def never_stopped() -> Iterator[Callable[[], bool]]:
    """Give the answer of somebody who lets the search run to its end."""
    yield lambda: False
