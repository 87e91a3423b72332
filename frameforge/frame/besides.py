"""What is typed besides every way out that is tried."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

__all__ = ["besides", "with_besides"]

_BESIDES: ContextVar[str] = ContextVar("besides", default="")


@contextmanager
def besides(words: str) -> Iterator[None]:
    """Let every way out that is told within be typed together with ``words``, which are taken in all that is tried."""
    token = _BESIDES.set(f"{_BESIDES.get()} {words}")
    try:
        yield
    finally:
        _BESIDES.reset(token)


def with_besides(words: str) -> str:
    """Return what to type, with what is typed besides: "--count 17 --loose tie (gap 2.41 mm)"."""
    typed, bracket, told = words.partition(" (")
    return f"{typed}{_BESIDES.get()}{bracket}{told}"
