"""A desk without a network: the routes of the page, answered in this process."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator, Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import httpx
import pytest

from frameforge.desk.answers import Answer, Folders, answer
from frameforge.desk.app import desk_app
from frameforge.desk.guard import Guard

from .browser import address as address
from .browser import browser as browser
from .browser import page as page

TOKEN = "a-token-of-the-tests"
KEY = "a-key-of-the-tests"
HOST = "127.0.0.1:8642"
COOKIE = {"cookie": f"desk-8642={KEY}"}
RECIPE = '[[piece]]\ncard = "moss"\nsize = "76mm"\nopening = "50mm"\n\n[[piece.row]]\nmotif = "bean-leaf"\ncount = 16\n'


class Here:
    """Answers every question at once, in this process."""

    def __init__(self, folders: Folders) -> None:
        self.folders = folders
        self.asked: list[str] = []
        self.stops = 0

    async def ask(self, kind: str, question: dict[str, Any], page: str = "") -> Answer:
        self.asked.append(kind)
        return answer(kind, question, self.folders)

    def progress(self, page: str = "") -> dict[str, Any]:
        return {"done": 3, "of": 24, "words": page}

    def stop(self, page: str = "") -> None:
        self.stops += 1


class Client:
    """Sends requests to the desk as a browser would, without a network."""

    def __init__(self, app: Guard) -> None:
        self._transport = httpx.ASGITransport(app=app, raise_app_exceptions=False)

    def get(self, path: str, headers: dict[str, str] | None = None) -> httpx.Response:
        return self._sent("GET", path, headers, b"")

    def post(self, path: str, content: str | bytes | Iterable[bytes], headers: dict[str, str]) -> httpx.Response:
        body = content if isinstance(content, (str, bytes)) else _sent_in_parts(content)
        return self._sent("POST", path, headers, body)

    def _sent(self, method: str, path: str, headers: dict[str, str] | None, body: Any) -> httpx.Response:
        async def sent() -> httpx.Response:
            async with httpx.AsyncClient(transport=self._transport, base_url=f"http://{HOST}") as client:
                return await client.request(method, path, headers={**COOKIE, **(headers or {})}, content=body)

        # A browser that is driven in this thread has a loop of its own here.
        with ThreadPoolExecutor(1) as thread:
            return thread.submit(lambda: asyncio.run(sent())).result()


async def _sent_in_parts(parts: Iterable[bytes]) -> AsyncIterator[bytes]:
    for part in parts:
        yield part


@pytest.fixture
def here(tmp_path: Path) -> Here:
    return Here(Folders(tmp_path / "out"))


@pytest.fixture
def client(here: Here) -> Client:
    app = desk_app(here, (HOST,), TOKEN, KEY, "out")
    return Client(app)


@pytest.fixture
def ask(client: Client) -> Callable[..., dict[str, Any]]:
    """Ask a question as the page does, and return the values of its answer: what is seen, with what is found in it."""

    def asked(kind: str, **question: Any) -> dict[str, Any]:
        values = sent(kind, **question)
        if kind != "see" or values.get("is_judged", True):
            return values
        found = sent("findings", recipe=values["recipe"], width=values["pieces"][0]["width"])
        seen = values.pop("pieces")
        if "pieces" not in found:
            return {**values, **found}
        return {**values, "pieces": [{**one, **more} for one, more in zip(seen, found["pieces"], strict=True)]}

    def sent(kind: str, **question: Any) -> dict[str, Any]:
        response = client.post(f"/{kind}", content=json.dumps(question), headers={"x-desk-token": TOKEN})
        assert response.status_code == 200, response.text
        values = response.json()
        assert isinstance(values, dict)
        return values

    return asked
