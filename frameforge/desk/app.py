"""The routes of the desk: its page, and the questions that the page asks."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any, Final, Protocol
from urllib.parse import quote, unquote

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from frameforge.desk.guard import Guard, TooLargeError, TooSlowError, body_of, number_in
from frameforge.desk.manual import FIRST_PAGE, manual_file
from frameforge.desk.page_files import PageFile, page_files
from frameforge.desk.question import Answer
from frameforge.desk.work import ReplacedError, StoppedError

__all__ = ["Asked", "desk_app"]

_MOST_QUESTION: Final = 2_000_000
"""Bytes of a question: a recipe with drawings kept in it takes some hundred thousand."""

_MOST_FILE: Final = 16_000_000
"""Bytes of a drawing or a recipe handed in, as many as a drawing may have."""

_QUESTIONS: Final = (
    "see", "findings", "take", "put", "motifs", "fonts", "dimensions", "measure", "as-cut", "mended", "sheets", "moved",
    "near", "fit",
)  # fmt: skip
_FILES: Final = ("drawing", "font", "open")


class Asked(Protocol):
    """What answers questions."""

    async def ask(self, kind: str, question: dict[str, Any], page: str = "") -> Answer:
        """Return the answer to one question."""

    def progress(self, page: str = "") -> dict[str, Any]:
        """Return how far the work is that a page waits for."""

    def stop(self, page: str = "") -> None:
        """Let go what a page waits for."""


def desk_app(worker: Asked, hosts: tuple[str, ...], token: str, key: str, folder: str) -> Guard:
    """Return the whole desk as an ASGI application, guarded.

    ``hosts`` are its own addresses with the port, ``token`` is what its page proves itself by, ``key`` what the browser
    does, ``folder`` the words for the folder that files may be put into.
    """
    desk = _Desk(worker, page_files({"{{token}}": token, "{{folder}}": folder}))
    routes = [
        Route("/", desk.page, methods=["GET"]),
        Route("/page/{name}", desk.file, methods=["GET"]),
        Route("/manual/{name:path}", desk.manual, methods=["GET"]),
        *(Route(f"/{kind}", desk.question, methods=["POST"]) for kind in _QUESTIONS),
        *(Route(f"/{kind}", desk.handed_in, methods=["POST"]) for kind in _FILES),
        Route("/progress", desk.progress, methods=["POST"]),
        Route("/stop", desk.stop, methods=["POST"]),
    ]
    handlers: Mapping[Any, Any] = {
        TooLargeError: _too_large,
        TooSlowError: _too_slow,
        ReplacedError: _replaced,
        StoppedError: _stopped,
        HTTPException: _http,
        Exception: _own_fault,
    }
    return Guard(Starlette(routes=routes, exception_handlers=handlers), hosts, token, key)


class _Desk:
    """The routes, with what they need."""

    def __init__(self, worker: Asked, files: Mapping[str, PageFile]) -> None:
        self._worker = worker
        self._files = files

    async def page(self, request: Request) -> Response:
        return self._served("index.html")

    async def file(self, request: Request) -> Response:
        return self._served(request.path_params["name"])

    async def question(self, request: Request) -> Response:
        """Answer a question of plain values."""
        asked = _values(await body_of(request, _MOST_QUESTION))
        if asked is None:
            return _said("A question that cannot be read.", 400)
        kind = request.url.path.strip("/")
        return _answered(await self._worker.ask(kind, asked, str(asked.get("page", ""))))

    async def handed_in(self, request: Request) -> Response:
        """Take a file: its recipe and its name stand in the headers, its bytes are the body."""
        name = unquote(request.headers.get("x-desk-name", ""))
        data = await body_of(request, _MOST_FILE)
        length = request.headers.get("x-desk-recipe-bytes", "0")
        cut = number_in(length)
        if cut is None or cut > min(len(data), _MOST_QUESTION):
            return _said("A question that cannot be read.", 400)
        question = {"name": name, "recipe": data[:cut].decode("utf-8", errors="replace"), "data": data[cut:]}
        page = request.headers.get("x-desk-page", "")
        return _answered(await self._worker.ask(request.url.path.strip("/"), question, page))

    async def progress(self, request: Request) -> Response:
        """Tell how far the work is that the page waits for."""
        return JSONResponse(self._worker.progress(await _page_of(request)))

    async def stop(self, request: Request) -> Response:
        """Let go the work that the page waits for."""
        self._worker.stop(await _page_of(request))
        return JSONResponse({})

    async def manual(self, request: Request) -> Response:
        """Return a page of the manual or one of its pictures."""
        return _sent(manual_file(request.path_params["name"] or FIRST_PAGE))

    def _served(self, name: str) -> Response:
        """Return a file of the page by its name: they are all known, and no other is looked for."""
        return _sent(self._files.get(name))


def _sent(found: PageFile | None) -> Response:
    """Return a file; what is not there is said."""
    if found is None:
        return _said("There is no such thing on the desk.", 404)
    return Response(found.data, media_type=found.kind)


async def _page_of(request: Request) -> str:
    """Return the page that asks; "" where it does not say."""
    asked = _values(await body_of(request, _MOST_QUESTION))
    return str(asked.get("page", "")) if asked else ""


def _values(body: bytes) -> dict[str, Any] | None:
    """Return a question's plain values; None where it is none that the page would ask."""
    try:
        asked = json.loads(body)
        if b"\\u" in body:
            json.dumps(asked, ensure_ascii=False).encode("utf-8")  # half a letter cannot be written anywhere
    except (ValueError, RecursionError):
        return None
    if not isinstance(asked, dict) or not isinstance(asked.setdefault("recipe", ""), str):
        return None
    options, left_out, width = asked.get("options", {}), asked.get("leave_out", []), asked.get("width", 0)
    is_sound = isinstance(options, dict) and all(map(_is_typed, options.values()))
    is_sound &= isinstance(left_out, list) and all(isinstance(key, str) for key in left_out)
    is_sound &= isinstance(width, int | float) and 0 <= width < 1e5
    return asked if is_sound else None


def _is_typed(value: object) -> bool:
    """Whether a value is what an option may be: a text, a list of texts, or a switch."""
    texts = value if isinstance(value, list) else [value]
    return value is True or all(isinstance(text, str) and len(text) < 10_000 for text in texts)


def _answered(answer: Answer) -> Response:
    """Return the response that carries an answer."""
    if answer.file is None:
        return JSONResponse(answer.values, answer.status)
    name = quote(str(answer.values["name"]))
    return Response(
        answer.file,
        media_type="application/zip",
        headers={"content-disposition": f"attachment; filename*=UTF-8''{name}"},
    )


def _said(words: str, status: int) -> JSONResponse:
    return JSONResponse(_words(words), status)


def _words(words: str) -> dict[str, Any]:
    return {"refused": [[{"words": words}]]}


async def _too_large(request: Request, fault: Exception) -> Response:
    return _said("More than the desk takes at once. Look at the file.", 413)


async def _too_slow(request: Request, fault: Exception) -> Response:
    return _said("The question did not come to its end. Ask it again.", 408)


async def _replaced(request: Request, fault: Exception) -> Response:
    return JSONResponse({"replaced": True})


async def _stopped(request: Request, fault: Exception) -> Response:
    return JSONResponse({**_words("Stopped. Nothing was written."), "stopped": True})


async def _http(request: Request, fault: Exception) -> Response:
    status = fault.status_code if isinstance(fault, HTTPException) else 500
    return _said("There is no such thing on the desk.", status)


async def _own_fault(request: Request, fault: Exception) -> Response:
    return _said(f"A fault of our own ({type(fault).__name__}). Report it as DEVELOPERS.md says.", 500)
