"""A plugin of pytest: writes how long each test takes, in seconds of CPU, to the file that CPU_TIMES names."""

from __future__ import annotations

import json
import os
import time
from collections.abc import Generator
from pathlib import Path

import pytest

_seconds: dict[str, float] = {}


@pytest.hookimpl(wrapper=True, tryfirst=True)
def pytest_runtest_protocol(item: pytest.Item) -> Generator[None, bool, bool]:
    """Take the time of one test with its fixtures."""
    start = time.process_time()
    try:
        return (yield)
    finally:
        _seconds[item.nodeid] = time.process_time() - start


def pytest_sessionfinish() -> None:
    """Write all times."""
    Path(os.environ["CPU_TIMES"]).write_text(json.dumps(_seconds), encoding="utf-8")
