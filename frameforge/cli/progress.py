"""How far a run is, shown while it runs and only to somebody who watches a terminal."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

__all__ = ["progress"]


@contextmanager
def progress() -> Iterator[Callable[[int, int, str], None]]:
    """Yield the function that a run calls with (pieces done, pieces in all, name of the next).

    A bar on stderr from the second piece on; nothing where stderr is no terminal.
    """
    if not sys.stderr.isatty():
        yield lambda done, total, name: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

    columns = (TextColumn("{task.description}", markup=False), BarColumn(), MofNCompleteColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as shown:
        task = shown.add_task("", total=None, visible=False)
        yield lambda done, total, name: shown.update(
            task, completed=done, total=total, description=name, visible=total > 1
        )
