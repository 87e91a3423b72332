"""The workers behind the page: two processes of their own, so that a long work holds up no short question.

Questions wait for their turn at their process. Of those that show something, only the newest of a page is worked at:
an older one is let go, be it waiting or at work. Stopping lets go what a page has asked that takes long.
"""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Iterable
from typing import Any, Final

from frameforge.desk.answers import answer
from frameforge.desk.process import ProcessEndedError, Work, WorkProcess
from frameforge.desk.question import Answer, Answering, Folders

__all__ = ["LONG", "ReplacedError", "StoppedError", "Worker"]

LONG: Final = frozenset(("take", "put", "sheets", "fit", "mended"))
"""Kinds of question that may take long: they have a process of their own."""

_SHOWN: Final = frozenset(("see", "findings", "sheets", "fit", "dimensions", "as-cut", "mended", "near"))
"""Kinds whose answers are only shown: one that is out of date is of no use."""

_OUTDATES: Final = {"see": ("see", "findings", "dimensions", "as-cut", "mended")}
"""What else a newer question lets go, besides those of its own kind."""


class ReplacedError(Exception):
    """A newer question came before this one was answered."""


class StoppedError(Exception):
    """The work was stopped, or its process ended by itself."""


class _Asked(Work):
    """A question with the page that asked it."""

    __slots__ = ("is_replaced", "page", "process", "waits")

    def __init__(self, kind: str, question: dict[str, Any], page: str, process: WorkProcess) -> None:
        super().__init__(kind, question)
        self.page = page
        self.process = process
        self.is_replaced = False
        self.waits = True


class Worker:
    """Answers questions, short ones and long ones side by side, each sort one after the other."""

    def __init__(self, folders: Folders, answering: Answering = answer) -> None:
        """Keep the folders; nothing is started yet. ``answering`` stands at the top of a module."""
        self._quick = WorkProcess(folders, answering, is_quick=True)
        self._long = WorkProcess(folders, answering)
        self._turns = {self._quick: asyncio.Lock(), self._long: asyncio.Lock()}
        self._asked: list[_Asked] = []

    @property
    def pids(self) -> tuple[int, int]:
        """The numbers of the processes, for short and for long work; 0 where there is none."""
        return self._quick.pid, self._long.pid

    def warm(self) -> None:
        """Start the process for short questions before the first comes; returns at once."""
        threading.Thread(target=self._quick.warm, daemon=True).start()

    async def ask(self, kind: str, question: dict[str, Any], page: str = "") -> Answer:
        """Return the answer. Raises ReplacedError when a newer one came first, StoppedError when the work was ended."""
        process = self._long if kind in LONG else self._quick
        asked = _Asked(kind, question, page, process)
        self._let_go_older(asked)
        self._asked.append(asked)
        try:
            async with self._turns[process]:
                asked.waits = False
                return await asyncio.to_thread(process.exchange, asked)
        except ProcessEndedError as fault:
            raise (ReplacedError if asked.is_replaced else StoppedError) from fault
        finally:
            self._asked.remove(asked)

    def progress(self, page: str = "") -> dict[str, Any]:
        """Return how far the work is that a page waits for: done, of, words; nothing where it waits for none.

        What takes long comes first. ``page`` "" stands for all of them.
        """
        asked = next(iter(self._of(page)), None)
        if asked is None:
            return {}
        if asked.waits:
            return {"done": 0, "of": 0, "words": "waiting for its turn"}
        done, of, words = asked.told or (0, 0, "")
        return {"done": done, "of": of, "words": words}

    def stop(self, page: str = "") -> None:
        """Let go the long work of a page, be it waiting or at work, or else its short work; "" stands for all pages."""
        asked = self._of(page)
        for one in asked:
            if one.process is asked[0].process:
                one.process.stop(one)

    def end(self) -> None:
        """End both processes, whatever they are at; may be called from anywhere."""
        for asked in tuple(self._asked):
            asked.is_stopped = True
        for process in self._turns:
            process.end()

    def _of(self, page: str) -> list[_Asked]:
        """Return what a page waits for, what takes long first, the oldest first."""
        found = [asked for asked in tuple(self._asked) if page in ("", asked.page)]
        return sorted(found, key=lambda asked: asked.process is not self._long)

    def _let_go_older(self, newer: _Asked) -> None:
        kinds: Iterable[str] = _OUTDATES.get(newer.kind, (newer.kind,))
        for older in self._asked:
            if older.page == newer.page and older.kind in kinds and older.kind in _SHOWN:
                older.is_replaced = True
                older.process.stop(older)
