"""The one worker behind the page: a process of its own, so that what takes long can be stopped at once.

Questions wait for their turn. Of those of one kind from one page only the newest is worked at: when its turn comes, an
older one is let go unanswered. Stopping ends the process; the next question starts another.
"""

from __future__ import annotations

import asyncio
import contextlib
import multiprocessing
import signal
import threading
import time
from collections import Counter
from multiprocessing.connection import Connection
from typing import Any, Final

from frameforge.desk.answers import Answer, Folders, answer

__all__ = ["ReplacedError", "StoppedError", "Worker"]

_END_S: Final = 2.0
"""How long an ended process is waited for."""

_PATIENCE_S: Final = 3.0
"""Work older than this is ended when the same page asks anew; younger work costs less than another process."""


class ReplacedError(Exception):
    """A newer question of the same kind came before this one was worked at."""


class StoppedError(Exception):
    """The work was stopped, or its process ended by itself."""


class Worker:
    """Answers questions one after the other in a process of its own, which starts with the first question."""

    def __init__(self, folders: Folders) -> None:
        """Keep the folders; nothing is started yet."""
        self._folders = folders
        self._newest: Counter[tuple[str, str]] = Counter()
        self._turn = asyncio.Lock()
        self._guard = threading.RLock()
        self._process: Any = None
        self._pipe: Connection | None = None
        self._at_work: tuple[str, str] | None = None
        self._since_s = 0.0

    @property
    def pid(self) -> int:
        """The number of the process at work; 0 where there is none."""
        return self._process.pid if self._process is not None else 0

    async def ask(self, kind: str, question: dict[str, Any], page: str = "") -> Answer:
        """Return the answer. Raises ReplacedError when a newer one came first, StoppedError when the work was ended."""
        asked = page, kind
        self._newest[asked] += 1
        mine = self._newest[asked]
        if self._at_work == asked and time.monotonic() - self._since_s > _PATIENCE_S:
            self.stop()
        async with self._turn:
            if mine != self._newest[asked]:
                raise ReplacedError
            self._at_work, self._since_s = asked, time.monotonic()
            try:
                return await asyncio.to_thread(self._exchange, kind, question)
            finally:
                self._at_work = None

    def stop(self) -> None:
        """End the work at hand, if there is any; may be called from anywhere."""
        with self._guard:
            process, self._process, self._pipe = self._process, None, None
        if process is not None:
            process.kill()
            process.join(_END_S)

    def _exchange(self, kind: str, question: dict[str, Any]) -> Answer:
        pipe = self._started()
        try:
            pipe.send((kind, question))
            found = pipe.recv()
        except (EOFError, OSError) as fault:
            self.stop()
            raise StoppedError from fault
        assert isinstance(found, Answer)
        return found

    def _started(self) -> Connection:
        """Return the pipe to the process, started where there is none."""
        with self._guard:
            if self._pipe is None or not self._process.is_alive():
                context = multiprocessing.get_context("spawn")
                self._pipe, theirs = context.Pipe()
                self._process = context.Process(target=_work, args=(theirs, self._folders), daemon=True)
                self._process.start()
                theirs.close()
            return self._pipe


def _work(pipe: Connection, folders: Folders) -> None:
    """Answer what comes through the pipe until nobody is at its other end."""
    # Ctrl-C goes to every process of the terminal; the desk itself ends this one.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    with contextlib.suppress(EOFError, OSError):
        while True:
            kind, question = pipe.recv()
            pipe.send(answer(kind, question, folders))
