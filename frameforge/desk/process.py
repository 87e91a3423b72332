"""A process that answers questions one at a time, tells how far it is, and lets its work go when it is told to.

Where the system has signals, work is let go by one and the process lives on, warm; what does not heed it in time, and
all work where there are no such signals, ends with its process. The next question starts another.
"""

from __future__ import annotations

import contextlib
import gc
import multiprocessing
import os
import signal
import threading
import time
from collections.abc import Iterator
from multiprocessing.connection import Connection
from typing import Any, Final

from frameforge.desk.question import Answer, Answering, Folders
from frameforge.job.deaf import started_deaf

__all__ = ["ProcessEndedError", "Told", "Work", "WorkProcess"]

Told = tuple[int, int, str]
"""How much is done, of how much, and words for what comes next."""

_END_S: Final = 2.0
"""How long an ended process is waited for."""

_HEED_S: Final = 1.0
"""How long work may take to heed that it is no longer wanted."""

_TELLING_S: Final = 0.05
"""What is told within this time after the last is left out: nobody reads as fast."""

_IDLE_S: Final = 0.5
"""After so long without a question there is time to look through all that is kept for what nobody holds any more."""

_LET_GO: Final[int | None] = getattr(signal, "SIGUSR1", None)
"""The signal that work is no longer wanted, where the system has it."""


class ProcessEndedError(Exception):
    """The work was let go, or its process ended by itself."""


class Work:
    """One question with its kind; ``told`` is what was last told of the work on it, ``is_stopped`` that it may end."""

    __slots__ = ("is_stopped", "kind", "question", "told")

    def __init__(self, kind: str, question: dict[str, Any]) -> None:
        """Keep a question."""
        self.kind = kind
        self.question = question
        self.told: Told | None = None
        self.is_stopped = False


class WorkProcess:
    """One process, which starts with the first question, or when it is warmed."""

    def __init__(self, folders: Folders, answering: Answering, *, is_quick: bool = False) -> None:
        """Keep what the process is given; nothing is started yet. ``answering`` stands at the top of a module.

        ``is_quick``: its questions are short, and none is held up by clearing memory.
        """
        self._given = folders, answering, is_quick
        self._guard = threading.RLock()
        self._turn = threading.Lock()
        self._process: Any = None
        self._pipe: Connection | None = None
        self._at: Work | None = None

    @property
    def pid(self) -> int:
        """The number of the process; 0 where there is none."""
        process = self._process
        return process.pid if process is not None else 0

    def warm(self) -> None:
        """Start the process before it is asked anything."""
        with contextlib.suppress(OSError):
            self._started()

    def exchange(self, work: Work) -> Answer:
        """Return the answer; waits for it. Raises ProcessEndedError where the work was let go or the process ended."""
        while not work.is_stopped:
            with self._turn:
                found = self._exchanged(work)
            if found is not None:
                return found
            # Let go without our asking: the signal was meant for the work before.
        raise ProcessEndedError

    def stop(self, work: Work) -> None:
        """Let one question go, be it at work or still to come; returns at once."""
        with self._guard:
            work.is_stopped = True
            process = self._process
            if self._at is not work or process is None:
                return
            if _LET_GO is None:
                process.kill()
                return
            with contextlib.suppress(OSError):
                os.kill(process.pid, _LET_GO)
        late = threading.Timer(_HEED_S, self._kill_unheeding, (process, work))
        late.daemon = True
        late.start()

    def end(self) -> None:
        """End the process, if there is one, whatever it is at."""
        with self._guard:
            process, self._process, self._pipe = self._process, None, None
        if process is not None:
            process.kill()
            process.join(_END_S)

    def _exchanged(self, work: Work) -> Answer | None:
        """Return the answer, or None where the process let the work go."""
        try:
            with self._guard:
                self._at = work
                pipe = self._started()
            pipe.send((work.kind, work.question))
            while not isinstance(found := pipe.recv(), Answer):
                if found is None:
                    return None
                work.told = found
        except (EOFError, OSError) as fault:
            self.end()
            raise ProcessEndedError from fault
        finally:
            self._at = None
        return found

    def _kill_unheeding(self, process: Any, work: Work) -> None:
        """End the process where it is still at the work that it was told to let go."""
        with self._guard:
            if process is self._process and self._at is work:
                process.kill()

    def _started(self) -> Connection:
        """Return the pipe to the process, started where there is none."""
        with self._guard:
            if self._pipe is None or not self._process.is_alive():
                context = multiprocessing.get_context("spawn")
                ours, theirs = context.Pipe()
                process = context.Process(target=_work, args=(theirs, *self._given), daemon=True)
                with started_deaf(), theirs:
                    process.start()
                self._pipe, self._process = ours, process
            return self._pipe


class _LetGoError(BaseException):
    """The work at hand is no longer wanted. No net of ours or of a library catches it."""


class _Heeding:
    """Hears that work is to be let go, and raises it where the work is, but not while something is being sent."""

    def __init__(self) -> None:
        self._is_asked = False
        self._is_at_work = False

    def hear(self, number: int, frame: object) -> None:
        """Take the signal."""
        self._is_asked = True
        if self._is_at_work:
            raise _LetGoError

    @contextlib.contextmanager
    def working(self, at_work: bool = True) -> Iterator[None]:
        """Be at work for a while, or not."""
        before, self._is_at_work = self._is_at_work, at_work
        try:
            if self._is_asked and at_work:
                raise _LetGoError
            yield
        finally:
            self._is_at_work = before
        if self._is_asked and before:
            raise _LetGoError

    def forget(self) -> None:
        """Forget what was heard: it has been done."""
        self._is_asked = False


def _work(pipe: Connection, folders: Folders, answering: Answering, is_quick: bool) -> None:
    """Answer what comes through the pipe until nobody is at its other end."""
    heeding = _Heeding()
    # What was imported stays: looking it through again and again would hold up one change in three.
    gc.freeze()
    if is_quick:
        gc.disable()
    # Ctrl-C goes to every process of the terminal; the desk itself ends this one.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if _LET_GO is not None:
        signal.signal(_LET_GO, heeding.hear)
    last_s = 0.0

    def tell(done: int, of: int, words: str) -> None:
        nonlocal last_s
        now_s = time.monotonic()
        if now_s - last_s >= _TELLING_S:
            last_s = now_s
            with heeding.working(False):
                pipe.send((done, of, words))

    with contextlib.suppress(EOFError, OSError):
        while True:
            kind, question = pipe.recv()
            last_s = 0.0
            found: Answer | None = None
            try:
                with heeding.working():
                    found = answering(kind, question, folders, tell)
            except _LetGoError:
                found = None
                heeding.forget()
            pipe.send(found)
            del found, question
            if is_quick:
                _clear(pipe)


def _clear(pipe: Connection) -> None:
    """Clear memory between questions: of what is new at once, of all there is when no question comes."""
    gc.collect(1)
    if not pipe.poll(_IDLE_S):
        gc.collect()
