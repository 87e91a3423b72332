"""Who may ask the desk: pages that it served itself, in a browser on this computer, and nobody else.

A page of another site that names 127.0.0.1 sends its own Origin, one that turned its name to our address sends its own
Host: both are refused before anything is read. Every change needs the token that only our page was given. The policy
for what the page may load (Content Security Policy, level 3) allows our own files and nothing inline.
"""

from __future__ import annotations

import hmac
from collections.abc import Iterable, Mapping
from typing import Final

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

__all__ = ["TOKEN_HEADER", "Guard", "TooLargeError", "body_of"]

TOKEN_HEADER: Final = "x-desk-token"

_READING: Final = ("GET", "HEAD")

_HEADERS: Final[Mapping[str, str]] = {
    "content-security-policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self'; connect-src 'self'; "
        "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    ),
    "x-content-type-options": "nosniff",
    "referrer-policy": "no-referrer",
    "cross-origin-resource-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cache-control": "no-store",
}


class TooLargeError(Exception):
    """A question has more bytes than its kind may have."""


class Guard:
    """Lets through what our own page asks, and puts the policy on every answer."""

    def __init__(self, app: ASGIApp, hosts: Iterable[str], token: str) -> None:
        """Guard ``app``, which answers under ``hosts`` ("127.0.0.1:8642"); ``token`` is the page's."""
        self._app = app
        self._hosts = frozenset(hosts)
        self._origins = frozenset(f"http://{host}" for host in self._hosts)
        self._token = token.encode()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or refuse it."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        refusal = self._refusal(scope["method"], Headers(scope=scope))
        answering = self._app if refusal is None else PlainTextResponse(refusal[1], refusal[0])

        async def sent(message: Message) -> None:
            if message["type"] == "http.response.start":
                MutableHeaders(scope=message).update(_HEADERS)
            await send(message)

        await answering(scope, receive, sent)

    def _refusal(self, method: str, headers: Headers) -> tuple[int, str] | None:
        """Return the status and the sentence of a refusal; None where a request may pass."""
        hosts, origins = headers.getlist("host"), headers.getlist("origin")
        if len(hosts) != 1 or hosts[0].lower() not in self._hosts:
            return 421, "The desk answers under its own address only, the one that the terminal shows."
        if any(origin.lower() not in self._origins for origin in origins):
            return 403, "The desk answers its own page only."
        if headers.get("sec-fetch-site", "none") not in ("same-origin", "none"):
            return 403, "The desk answers its own page only."
        if method in _READING:
            return None
        if not hmac.compare_digest(headers.get(TOKEN_HEADER, "").encode(), self._token):
            return 403, "This page is of an earlier desk. Load it again."
        return None


async def body_of(request: Request, most: int) -> bytes:
    """Return the body of a request. Raises TooLargeError as soon as it is known to have more bytes than ``most``."""
    stated = request.headers.get("content-length", "")
    if stated.isdecimal() and int(stated) > most:
        raise TooLargeError
    held = bytearray()
    async for chunk in request.stream():
        held += chunk
        if len(held) > most:
            raise TooLargeError
    return bytes(held)
