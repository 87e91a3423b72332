"""Who does the work: this process, several of this machine, or those of a cluster; always through an Executor."""

from __future__ import annotations

import importlib
import multiprocessing
import os
import threading
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor, Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing.connection import wait
from typing import Any, Final, TypeVar

from frameforge.errors import FrameforgeError, InputError
from frameforge.job.deaf import started_deaf, undisturbed

__all__ = ["executor_of", "in_order"]

_AHEAD: Final = 3
"""Rows waiting for each worker: what is done and not yet written is bounded by it."""

_PRELOADED: Final = (
    "frameforge.job.batch.work", "frameforge.frame.letters", "frameforge.write.checked", "frameforge.write.dxf",
)  # fmt: skip
"""Modules that every row needs and that take longest to read in."""

T = TypeVar("T")
R = TypeVar("R")


@contextmanager
def executor_of(workers: int, scheduler: str | None) -> Iterator[Executor | None]:
    """Yield the executor for a number of workers or a cluster's address; None for this process alone.

    Raises InputError where the cluster does not answer, or its library is not installed.
    """
    if scheduler is not None:
        with _cluster(scheduler) as executor:
            yield executor
    elif workers > 1:
        with ProcessPoolExecutor(workers, _context(), _end_with_parent) as pool:
            try:
                yield pool
            except (KeyboardInterrupt, SystemExit):
                # What is on its way is not wanted any more, however long it would take.
                for worker in multiprocessing.active_children():
                    worker.terminate()
                raise
    else:
        yield None


def _context() -> Any:
    """Return how workers are started; where they are forked from a server, it is there and has read everything in."""
    if "forkserver" not in multiprocessing.get_all_start_methods():
        return multiprocessing.get_context("spawn")
    from multiprocessing import forkserver  # here, since Windows has none

    context = multiprocessing.get_context("forkserver")
    context.set_forkserver_preload(list(_PRELOADED))
    with started_deaf():
        forkserver.ensure_running()
    first = context.Process(target=_do_nothing)
    first.start()
    first.join()
    return context


def _do_nothing() -> None:
    """Be a worker that was forked: the next one is there at once."""


def _end_with_parent() -> None:
    """Have a worker end when the one that started it is gone, however that ended: nobody else would stop it."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_wait_for, args=(parent.sentinel,), daemon=True).start()


def _wait_for(sentinel: int) -> None:
    """End this process once the other one has ended."""
    wait([sentinel])
    os._exit(1)


@contextmanager
def _cluster(address: str) -> Iterator[Executor]:
    """Yield the executor of a dask.distributed cluster."""
    where = f"make, --scheduler {address}"
    try:
        distributed: Any = importlib.import_module("distributed")
    except ImportError as fault:
        say = 'needs dask.distributed. Install it with: pip install "frameforge[cluster]"'
        raise InputError(say, where=where, code="no-cluster") from fault
    try:
        client = distributed.Client(address, timeout="10s", set_as_default=False)
    except (OSError, ValueError, TimeoutError) as fault:
        say = "nobody answers there. Look at the address, such as tcp://127.0.0.1:8786."
        raise InputError(say, where=where, code="no-cluster") from fault
    with client:
        executor: Executor = client.get_executor()
        yield executor


def in_order(
    executor: Executor | None, work: Callable[[T], R], given: Sequence[T], ahead: int
) -> Iterator[tuple[int, R]]:
    """Yield the result of every entry with its place, in the order given; no more than ``ahead`` are on their way.

    Raises FrameforgeError, our own fault, when a worker dies.
    """
    if executor is None:
        for place, entry in enumerate(given):
            yield place, work(entry)
        return
    waiting: deque[tuple[int, Future[R]]] = deque()
    rest = iter(enumerate(given))
    try:
        for place, entry in rest:
            with undisturbed():  # a worker that is started just then
                waiting.append((place, executor.submit(work, entry)))
            if len(waiting) >= max(ahead, 1) * _AHEAD:
                first, future = waiting.popleft()
                yield first, future.result()
        while waiting:
            first, future = waiting.popleft()
            yield first, future.result()
    except BrokenProcessPool as fault:
        say = "a worker has died, perhaps for want of memory. Run it again with fewer --workers; it goes on from there."
        raise FrameforgeError(say, where="make", code="worker") from fault
    except KeyboardInterrupt:
        waiting.clear()  # they end with their workers; the pool stumbles over those that were cancelled before
        raise
    finally:
        for _, future in waiting:
            future.cancel()
