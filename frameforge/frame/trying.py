"""Whether only a way out of a refusal is being tried: then what would take long to find counts as not found."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

__all__ = ["is_trying", "trying"]

_TRYING: ContextVar[bool] = ContextVar("trying", default=False)


@contextmanager
def trying() -> Iterator[None]:
    """Let all that runs within know that a way out is tried. A maker waits for the answer, and others are at hand."""
    before = _TRYING.set(True)
    try:
        yield
    finally:
        _TRYING.reset(before)


def is_trying() -> bool:
    """Return whether a way out is being tried."""
    return _TRYING.get()
