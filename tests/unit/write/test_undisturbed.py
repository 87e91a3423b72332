"""Signals are held back for a moment, and none is lost."""

from __future__ import annotations

import signal
import threading

import pytest

from frameforge.write.undisturbed import undisturbed


def _fail_when_told() -> None:
    with undisturbed():
        signal.raise_signal(signal.SIGINT)
        raise OSError("disk")


def test_signals_wait_for_the_end_and_the_first_is_heard() -> None:
    heard: list[int] = []
    before = {number: signal.getsignal(number) for number in (signal.SIGINT, signal.SIGTERM)}
    for number in before:
        signal.signal(number, lambda number, frame: heard.append(number))
    ours = {number: signal.getsignal(number) for number in before}
    try:
        with undisturbed():
            signal.raise_signal(signal.SIGTERM)
            signal.raise_signal(signal.SIGINT)
            assert heard == []
        assert heard == [signal.SIGTERM]
        with pytest.raises(OSError, match="disk"):
            _fail_when_told()
        assert heard == [signal.SIGTERM, signal.SIGINT]
        assert {number: signal.getsignal(number) for number in before} == ours
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def test_what_pays_no_heed_goes_on_paying_none() -> None:
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        with undisturbed():
            assert signal.getsignal(signal.SIGINT) == signal.SIG_IGN
            signal.raise_signal(signal.SIGINT)
        assert signal.getsignal(signal.SIGINT) == signal.SIG_IGN
    finally:
        signal.signal(signal.SIGINT, before)


def test_in_another_thread_nothing_is_held_and_nothing_changed() -> None:
    seen: list[object] = []

    def work() -> None:
        with undisturbed():
            seen.append(signal.getsignal(signal.SIGINT))

    worker = threading.Thread(target=work)
    worker.start()
    worker.join()
    assert seen == [signal.getsignal(signal.SIGINT)]
