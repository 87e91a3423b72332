"""Who may ask the desk: pages that it served itself, in a browser on this computer, and nobody else.

A page of another site that names 127.0.0.1 sends its own Origin, one that turned its name to our address sends its own
Host: both are refused before anything is read. Other people on this computer reach the address too, but not the key in
the line of the terminal: the first request brings it and is given a cookie for it, and nothing is answered without.
Every change needs the token that only our page was given. The policy for what the page may load (Content Security
Policy, level 3) allows our own files and nothing inline.
"""

from __future__ import annotations

import asyncio
import hmac
from collections.abc import Mapping, Sequence
from http.cookies import CookieError, SimpleCookie
from typing import Final
from urllib.parse import parse_qs

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import Request
from starlette.responses import PlainTextResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

__all__ = ["TOKEN_HEADER", "Guard", "TooLargeError", "TooSlowError", "body_of", "number_in"]

TOKEN_HEADER: Final = "x-desk-token"

_READING: Final = ("GET", "HEAD")

_MOST_BODY_S: Final = 60.0
"""How long a question may take to come; the largest drawing takes part of a second from the same computer."""

_MOST_FIGURES: Final = 12

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


class TooSlowError(Exception):
    """A question did not come to its end in time."""


class Guard:
    """Lets through what our own page asks, and puts the policy on every answer."""

    def __init__(self, app: ASGIApp, hosts: Sequence[str], token: str, key: str) -> None:
        """Guard ``app``, which answers under ``hosts`` ("127.0.0.1:8642"), the first of them the one that is told.

        ``token`` is the page's, ``key`` stands in the address that the terminal shows: http://HOST/?key=KEY.
        """
        self._app = app
        self._hosts = frozenset(hosts)
        self._origins = frozenset(f"http://{host}" for host in self._hosts)
        self._token = token.encode()
        self._key = key.encode()
        # Cookies are shared by all ports of a host: each desk has its own.
        self._cookie = f"desk-{hosts[0].rpartition(':')[2]}"

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer one request, or refuse it."""
        if scope["type"] == "lifespan":
            await self._app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        headers = Headers(scope=scope)
        refusal = self._refusal(scope["method"], headers)
        if refusal is not None:
            answering: ASGIApp = PlainTextResponse(refusal[1], refusal[0])
        else:
            answering = self._welcome(scope) or (self._app if self._is_known(headers) else _unknown())

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

    def _welcome(self, scope: Scope) -> Response | None:
        """Return what leads a browser that brings the key to the page, with its cookie; None for all else."""
        given = parse_qs(scope["query_string"].decode("latin-1")).get("key", [])
        if scope["path"] != "/" or scope["method"] not in _READING or not self._is_key(given):
            return None
        led = RedirectResponse("/", 303)
        led.set_cookie(self._cookie, self._key.decode(), path="/", httponly=True, samesite="strict")
        return led

    def _is_known(self, headers: Headers) -> bool:
        """Whether a request carries the cookie of this desk."""
        try:
            held = SimpleCookie("; ".join(headers.getlist("cookie")))
        except CookieError:
            return False
        return self._is_key([held[self._cookie].value] if self._cookie in held else [])

    def _is_key(self, given: list[str]) -> bool:
        return len(given) == 1 and hmac.compare_digest(given[0].encode(), self._key)


def _unknown() -> Response:
    """Return what is said to a browser that did not come by the line of the terminal."""
    return PlainTextResponse("Open the desk by the whole address that the terminal shows: it holds a key.", 403)


async def body_of(request: Request, most: int) -> bytes:
    """Return the body of a request.

    Raises TooLargeError as soon as it is known to have more bytes than ``most``, TooSlowError where it does not come.
    """
    if (number_in(request.headers.get("content-length", "0")) or 0) > most:
        raise TooLargeError
    held = bytearray()
    try:
        async with asyncio.timeout(_MOST_BODY_S):
            async for chunk in request.stream():
                held += chunk
                if len(held) > most:
                    raise TooLargeError
    except TimeoutError as fault:
        raise TooSlowError from fault
    return bytes(held)


def number_in(header: str) -> int | None:
    """Return the whole number that a header is; None where it is none, or has more figures than any size."""
    is_number = header.isascii() and header.isdecimal() and len(header) <= _MOST_FIGURES
    return int(header) if is_number else None
