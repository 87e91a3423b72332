"""A piece that is looked at before it is judged: what takes long and does not change how it looks comes later."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import TypeVar, cast

__all__ = ["is_looking_first", "looking_first", "remembered"]

_Made = TypeVar("_Made")

_LOOKS: ContextVar[bool] = ContextVar("looks", default=False)
_KEPT: list[tuple[object, object]] = []
"""What the last look came to, with what it was made of."""


@contextmanager
def looking_first() -> Iterator[None]:
    """Let all that is made within have no findings and no neighbouring counts, and be remembered for when it has.

    What an earlier look came to is forgotten. Outside of it nothing is remembered, and only the last look is known.
    """
    _KEPT.clear()
    token = _LOOKS.set(True)
    try:
        yield
    finally:
        _LOOKS.reset(token)


def is_looking_first() -> bool:
    """Return whether a piece is only looked at for now."""
    return _LOOKS.get()


def remembered(made_of: object, make: Callable[[], _Made]) -> _Made:
    """Return what the last look made of the same, or what ``make`` gives; ``made_of`` is told apart by equality."""
    if not is_looking_first():
        for known, kept in _KEPT:
            if known == made_of:
                return cast("_Made", kept)
        return make()
    made = make()
    _KEPT.append((made_of, made))
    return made
