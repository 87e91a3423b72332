"""The desk at work: on this computer's own address alone, until Ctrl-C."""

from __future__ import annotations

import os
import secrets
import socket
import webbrowser
from collections.abc import Callable
from pathlib import Path
from types import FrameType
from typing import Final

import uvicorn

from frameforge.desk.app import desk_app
from frameforge.desk.guard import Guard
from frameforge.desk.question import Folders
from frameforge.desk.work import Worker
from frameforge.errors import FileError, InputError

__all__ = ["HOST", "USUAL_PORT", "port_of", "serve"]

HOST: Final = "127.0.0.1"
"""The computer's own address: no other computer reaches it."""

USUAL_PORT: Final = 8642
_GREATEST_PORT: Final = 65535


def port_of(given: str | None) -> int | None:
    """Return the port as typed; None where none was. Raises InputError for what is none."""
    if given is None:
        return None
    if not given.strip().isdecimal() or not 0 < int(given) <= _GREATEST_PORT:
        say = f"a port is a whole number from 1 to {_GREATEST_PORT}. Leave it out, or write --port {USUAL_PORT}."
        raise InputError(say, where=f'desk, --port "{given}"', code="port")
    return int(given)


def serve(folders: Folders, port: int | None, *, opens: bool, tell: Callable[[list[str]], None]) -> None:
    """Serve the desk until it is interrupted; ``tell`` is given the lines to print once it can be reached.

    Without a ``port`` the usual one is taken, or a free one. Raises FileError where the stated one is taken.
    """
    with _listening(port) as listener:
        taken = listener.getsockname()[1]
        key = secrets.token_urlsafe(16)
        address = f"http://{HOST}:{taken}/?key={key}"
        worker = Worker(folders)
        hosts = (f"{HOST}:{taken}", f"localhost:{taken}")
        app = desk_app(worker, hosts, secrets.token_urlsafe(32), key, _shown(folders.out))
        tell([f"The desk is at {address}", f"Files go to {_shown(folders.out)}. Ctrl-C ends it."])
        worker.warm()
        if opens:
            webbrowser.open(address)
        try:
            _Server(app, worker).run(sockets=[listener])
        except KeyboardInterrupt:
            tell(["The desk is cleared."])
        finally:
            worker.end()


class _Server(uvicorn.Server):
    """The server, which ends the work at hand when it is told to end."""

    def __init__(self, app: Guard, worker: Worker) -> None:
        super().__init__(
            uvicorn.Config(
                app,
                log_level="warning",
                access_log=False,
                lifespan="off",
                server_header=False,
                timeout_graceful_shutdown=1,
            )
        )
        self._worker = worker

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """Stop the worker, then the server as it does."""
        self._worker.end()
        super().handle_exit(sig, frame)


def _shown(folder: Path) -> str:
    """Return a folder as it is told."""
    return folder.as_posix()


def _listening(port: int | None) -> socket.socket:
    """Return a socket that listens at the port, at the usual one, or at any that is free."""
    for tried in (USUAL_PORT, 0) if port is None else (port,):
        # Its protocol is named: else small answers are held back until the browser has confirmed their headers, 40 ms.
        listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        if os.name != "nt":  # where it means that a port just left may be taken again, and not that two may share it
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            listener.bind((HOST, tried))
            # Whoever follows the address before the server runs is kept waiting, not turned away.
            listener.listen()
        except OSError:
            listener.close()
            continue
        return listener
    say = "another program has this port. Leave --port out, or take another number."
    raise FileError(say, where=f"desk, --port {port}", code="port-taken")
