"""Layouts kept for a while: what was laid to be looked at is not laid once more to be written."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from typing import Final

from frameforge.sheet.design import Design
from frameforge.sheet.lay import Laid
from frameforge.sheet.stock import Stock

__all__ = ["LayoutKey", "LayoutStore", "keeping_layouts", "kept_layout"]

LayoutKey = tuple[tuple[Design, ...], Stock, int, int | None]
"""All that a layout comes from: designs, stock, seed, tries."""

LayoutStore = OrderedDict[LayoutKey, Laid]
"""Layouts, the one asked for last at the end."""

_MOST: Final = 16
"""A layout is small beside its designs, which are kept with it; a recipe has one for each of its cards."""

_store: ContextVar[LayoutStore | None] = ContextVar("layouts", default=None)


@contextmanager
def keeping_layouts(store: LayoutStore) -> Iterator[None]:
    """Keep in ``store`` what is laid meanwhile, and take from it what was laid before."""
    token = _store.set(store)
    try:
        yield
    finally:
        _store.reset(token)


def kept_layout(key: LayoutKey, find: Callable[[], Laid], is_stopped: Callable[[], bool]) -> Laid:
    """Return the layout of a key, found where none is kept; one whose search was stopped is kept for nobody."""
    store = _store.get()
    if store is None:
        return find()
    if key not in store:
        found = find()
        if is_stopped():
            return found
        store[key] = found
    store.move_to_end(key)
    while len(store) > _MOST:
        store.popitem(last=False)
    return store[key]
