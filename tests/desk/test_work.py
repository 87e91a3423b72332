"""The worker: one process, the newest question of a kind first, stopped at once, alive again after that."""

from __future__ import annotations

import asyncio
import os
import signal
import time
from pathlib import Path

import pytest

from frameforge.desk.answers import Answer, Folders
from frameforge.desk.work import ReplacedError, StoppedError, Worker

from .conftest import RECIPE

LONG = RECIPE.replace('"76mm"', '"2500mm"').replace('"50mm"', '"2300mm"').replace("count = 16", "count = 480")


async def _run(worker: Worker) -> None:
    asked = [asyncio.create_task(worker.ask("see", {"recipe": RECIPE}, "page")) for _ in range(4)]
    other = asyncio.create_task(worker.ask("see", {"recipe": RECIPE}, "another page"))
    answers = await asyncio.gather(*asked, other, return_exceptions=True)
    # The first had begun before the others came, or was let go with them; the last is always answered.
    assert all(isinstance(answer, ReplacedError) for answer in answers[1:3])
    assert all(isinstance(answer, Answer) and "pieces" in answer.values for answer in answers[3:])

    long = asyncio.create_task(worker.ask("see", {"recipe": LONG}, "page"))
    await asyncio.sleep(0.3)
    assert not long.done()
    began = time.monotonic()
    worker.stop()
    with pytest.raises(StoppedError):
        await long
    assert time.monotonic() - began < 2.0
    again = await worker.ask("see", {"recipe": RECIPE}, "page")
    assert again.values["pieces"]


def test_questions_are_replaced_stopped_and_asked_again(tmp_path: Path) -> None:
    worker = Worker(Folders(tmp_path))
    try:
        asyncio.run(_run(worker))
    finally:
        worker.stop()


@pytest.mark.slow
def test_a_worker_that_was_killed_is_started_again(tmp_path: Path) -> None:
    async def run() -> None:
        assert (await worker.ask("see", {"recipe": RECIPE})).status == 200
        os.kill(worker.pid, signal.SIGKILL)
        while True:
            try:
                answer = await worker.ask("see", {"recipe": RECIPE})
                break
            except StoppedError:
                continue
        assert answer.values["pieces"]

    worker = Worker(Folders(tmp_path))
    try:
        asyncio.run(run())
    finally:
        worker.stop()
