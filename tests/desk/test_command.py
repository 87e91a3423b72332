"""``frameforge desk``: its port, and that it binds to this computer alone."""

from __future__ import annotations

import socket
from collections.abc import Iterator

import pytest

from frameforge.cli.entry import main
from frameforge.desk import serve
from frameforge.desk.serve import HOST, port_of


@pytest.fixture
def taken() -> Iterator[int]:
    with socket.socket() as listener:
        listener.bind((HOST, 0))
        listener.listen()
        yield listener.getsockname()[1]


def test_a_port_that_is_taken_is_told_in_one_line(taken: int, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["desk", "--no-open", "--port", str(taken)]) == 4
    assert capsys.readouterr().err == (
        f"desk, --port {taken}: another program has this port. Leave --port out, or take another number.\n"
    )


@pytest.mark.parametrize("port", ["x", "0", "65536", "-1", "8.5"])
def test_what_is_no_port_is_refused(port: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["desk", "--no-open", f"--port={port}"]) == 2
    assert "from 1 to 65535" in capsys.readouterr().err


def test_a_port_may_be_left_out() -> None:
    assert port_of(None) is None
    assert port_of("8650") == 8650


def test_without_a_port_a_free_one_is_taken_on_this_computer(taken: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(serve, "USUAL_PORT", taken)
    with serve._listening(None) as listener:
        address, port = listener.getsockname()
        with socket.create_connection((address, port), timeout=2):
            pass  # the address may be followed as soon as it is told
    assert address == "127.0.0.1"
    assert port not in (0, taken)


def test_small_answers_are_sent_at_once() -> None:
    """The loop of the server turns on TCP_NODELAY only for sockets that name their protocol."""
    with serve._listening(None) as listener:
        assert listener.proto == socket.IPPROTO_TCP
