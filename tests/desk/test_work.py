"""The workers: two processes, the newest question first, progress told, let go at once, alive again after that."""

from __future__ import annotations

import asyncio
import os
import signal
import time
from collections.abc import Awaitable, Callable, Coroutine, Iterator
from pathlib import Path
from typing import Any

import pytest
from fixtures.slow_answers import slow_answer

from frameforge.desk.process import ProcessEndedError, Work, WorkProcess
from frameforge.desk.question import Answer, Folders
from frameforge.desk.work import LONG, ReplacedError, StoppedError, Worker

from .conftest import RECIPE

Finish = Callable[[Coroutine[Any, Any, Any]], Any]
AGES: dict[str, Any] = {"s": 60.0}


@pytest.fixture(scope="module")
def worker(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Worker]:
    """A worker whose answers come as late as they are asked to."""
    made = Worker(Folders(tmp_path_factory.mktemp("work")), slow_answer)
    yield made
    made.end()


@pytest.fixture(scope="module")
def finish() -> Iterator[Finish]:
    """What runs things to their end, all in one loop, as a server does."""
    with asyncio.Runner() as runner:
        yield runner.run


async def _soon(holds: Callable[[], Any]) -> None:
    """Wait until something holds."""
    for _ in range(2000):
        if holds():
            return
        await asyncio.sleep(0.005)
    raise AssertionError(holds)


async def _outcome(asked: Awaitable[Answer]) -> object:
    (found,) = await asyncio.gather(asked, return_exceptions=True)
    return found


def test_short_questions_do_not_wait_for_long_work(worker: Worker, finish: Finish) -> None:
    async def run() -> None:
        long = asyncio.create_task(worker.ask("put", {**AGES, "tells": [(0, 24, "")]}, "a"))
        await _soon(lambda: worker.progress("a").get("of"))
        short = await worker.ask("see", {}, "a")
        assert not long.done()
        assert short.values["pid"] == worker.pids[0] != worker.pids[1]
        worker.stop("a")
        assert isinstance(await _outcome(long), StoppedError)

    assert {"take", "put", "sheets"} <= LONG
    finish(run())


def test_short_work_is_not_held_up_by_clearing_memory(worker: Worker, finish: Finish) -> None:
    async def run() -> None:
        for kind in ("see", "findings"):
            assert (await worker.ask(kind, {}, "a")).values["clears"] is False
        assert (await worker.ask("put", {}, "a")).values["clears"] is True

    finish(run())


def test_progress_is_told_to_the_page_that_waits(worker: Worker, finish: Finish) -> None:
    async def run() -> None:
        assert worker.progress("a") == {}
        first = asyncio.create_task(worker.ask("sheets", {**AGES, "tells": [(3, 24, "moss"), (4, 24, "sand")]}, "a"))
        second = asyncio.create_task(worker.ask("put", {}, "b"))
        await _soon(lambda: worker.progress("a").get("of"))
        # What is told on the heels of another is left out.
        assert worker.progress("a") == worker.progress() == {"done": 3, "of": 24, "words": "moss"}
        assert worker.progress("b") == {"done": 0, "of": 0, "words": "waiting for its turn"}
        assert worker.progress("c") == {}
        worker.stop("b")
        worker.stop("c")
        await asyncio.sleep(0.01)
        assert not first.done()
        worker.stop("a")
        assert isinstance(await _outcome(first), StoppedError)
        assert isinstance(await _outcome(second), StoppedError)
        assert worker.progress("a") == {}

    finish(run())


@pytest.mark.skipif(not hasattr(signal, "SIGUSR1"), reason="here work that is let go ends with its process")
def test_work_let_go_clears_away_and_its_process_lives_on(worker: Worker, finish: Finish, tmp_path: Path) -> None:
    async def run() -> None:
        pid = (await worker.ask("put", {})).values["pid"]
        long = asyncio.create_task(worker.ask("put", {**AGES, "clean": str(tmp_path / "left"), "tells": [(1, 2, "")]}))
        await _soon(lambda: worker.progress().get("of"))
        worker.stop()
        assert isinstance(await _outcome(long), StoppedError)
        assert (await worker.ask("put", {})).values["pid"] == pid

    finish(run())
    assert (tmp_path / "left").read_text(encoding="utf-8") == "cleared away"


def test_of_what_is_shown_only_the_newest_is_worked_at(worker: Worker, finish: Finish) -> None:
    async def run() -> None:
        old = asyncio.create_task(worker.ask("see", AGES, "a"))
        waiting = asyncio.create_task(worker.ask("see", AGES, "a"))
        findings = asyncio.create_task(worker.ask("findings", AGES, "a"))
        await asyncio.sleep(0.02)
        other = asyncio.create_task(worker.ask("see", {}, "b"))
        motifs = asyncio.create_task(worker.ask("motifs", {}, "a"))
        newest = await worker.ask("see", {"is": "newest"}, "a")
        assert newest.values["is"] == "newest"
        for stale in (old, waiting, findings):
            assert isinstance(await _outcome(stale), ReplacedError)
        assert (await other).values["kind"] == "see"
        assert (await motifs).values["kind"] == "motifs"

    finish(run())


def test_files_asked_for_twice_are_made_twice(worker: Worker, finish: Finish) -> None:
    async def run() -> list[Answer]:
        return await asyncio.gather(*(worker.ask("put", {"at": k}, "a") for k in range(2)))

    assert [found.values["at"] for found in finish(run())] == [0, 1]


def test_a_short_question_is_stopped_where_no_long_work_is_at_hand(worker: Worker, finish: Finish) -> None:
    async def run() -> None:
        asked = asyncio.create_task(worker.ask("see", {**AGES, "tells": [(1, 2, "")]}, "a"))
        await _soon(lambda: worker.progress("a").get("of"))
        worker.stop("a")
        assert isinstance(await _outcome(asked), StoppedError)

    finish(run())


def test_work_that_heeds_nothing_is_ended_with_its_process(worker: Worker, finish: Finish) -> None:
    async def run() -> None:
        asked = asyncio.create_task(worker.ask("see", {"deaf": 60.0, "tells": [(1, 2, "")]}))
        await _soon(lambda: worker.progress().get("of"))
        pid = worker.pids[0]
        began = time.monotonic()
        worker.stop()
        assert isinstance(await _outcome(asked), StoppedError)
        assert time.monotonic() - began < 30.0
        assert (await worker.ask("see", {})).values["pid"] != pid

    finish(run())


@pytest.mark.parametrize("kind", ["see", "put"])
def test_a_process_that_is_killed_is_started_again(worker: Worker, finish: Finish, kind: str) -> None:
    async def run() -> None:
        assert isinstance(await _outcome(worker.ask(kind, {"ends": True})), StoppedError)
        first = (await worker.ask(kind, {})).values["pid"]
        os.kill(first, signal.SIGTERM)
        await _soon(lambda: not _lives(first))
        answers = [await _outcome(worker.ask(kind, {})) for _ in range(2)]
        assert isinstance(answers[1], Answer)
        assert answers[1].values["pid"] != first

    finish(run())


def _lives(pid: int) -> bool:
    """Whether a process is at work, and neither gone nor waiting to be buried."""
    try:
        state = Path(f"/proc/{pid}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()[0]
    except OSError:
        return False
    return state != "Z"


@pytest.mark.slow
def test_a_process_that_cannot_be_started_is_no_process(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As in a folder that has gone: the question is told that its work ended, and the desk can be cleared."""
    process = WorkProcess(Folders(tmp_path), slow_answer)
    gone = tmp_path / "gone"
    gone.mkdir()
    monkeypatch.chdir(gone)
    gone.rmdir()
    process.warm()
    assert process.pid == 0
    with pytest.raises(ProcessEndedError):
        process.exchange(Work("see", {}))
    process.end()


def test_the_real_answers_are_given_let_go_and_given_again(tmp_path: Path) -> None:
    long = RECIPE.replace('"76mm"', '"2500mm"').replace('"50mm"', '"2300mm"').replace("count = 16", "count = 480")

    async def run() -> None:
        assert (await made.ask("see", {"recipe": RECIPE}, "a")).values["pieces"]
        pids = made.pids
        asked = asyncio.create_task(made.ask("see", {"recipe": long}, "a"))
        await asyncio.sleep(0.05)
        assert not asked.done()
        made.stop("a")
        assert isinstance(await _outcome(asked), StoppedError)
        assert (await made.ask("see", {"recipe": RECIPE}, "a")).values["pieces"]
        assert made.pids == pids

    made = Worker(Folders(tmp_path))
    try:
        asyncio.run(run())
    finally:
        made.end()
