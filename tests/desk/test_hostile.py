"""What nobody who means well would ask: no question is a fault of ours, and nothing is reached that should not be."""

from __future__ import annotations

import asyncio
import io
import json
import random
import socket
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from frameforge.desk import guard
from frameforge.desk.app import _FILES, _QUESTIONS, desk_app

from .conftest import COOKIE, HOST, KEY, RECIPE, TOKEN, Client, Here

Ask = Callable[..., dict[str, Any]]
GOOD = {"x-desk-token": TOKEN}
ODD: tuple[Any, ...] = (
    None, True, -1, 0, 7, 1e308, 10**30, 0.5, "", "a", "-1", "1" * 5000, "\0", "../..", [], {}, [[]], [None], [1, 2],
    [1e308, 1e308], {"a": 1}, "[[piece]]", "a = " + "[" * 3000,
)  # fmt: skip
KEYS = (
    "at", "row", "rows", "step", "size", "count", "scale", "width", "words", "map", "piece", "from", "to", "laid",
    "sheet", "x", "y", "turn", "clear", "guide", "page", "options", "leave_out",
)  # fmt: skip


_MADE = ("take", "put", "fit", "sheets")


@pytest.mark.slow
@pytest.mark.parametrize("kind", _QUESTIONS)
def test_no_odd_question_is_a_fault_of_ours(client: Client, kind: str) -> None:
    chance = random.Random(kind)
    small = '[[piece]]\nsize = "40mm"\n[[piece.row]]\nmotif = "scallop"\ncount = 4\n'
    for _ in range(12 if kind in _MADE else 30):
        asked = {key: chance.choice(ODD) for key in chance.sample(KEYS, 6)}
        if chance.random() < 0.7:
            asked["recipe"] = small
        if "options" in asked and chance.random() < 0.7:
            asked["options"] = {chance.choice(("size", "row.0.count", "motif.0", "x", "")): chance.choice(ODD)}
        response = client.post(f"/{kind}", content=json.dumps(asked), headers=GOOD)
        assert response.status_code in (200, 400), (asked, response.text)


@pytest.mark.parametrize("kind", [*_QUESTIONS, "progress", "stop"])
def test_a_question_without_anything_is_answered_in_words(client: Client, kind: str) -> None:
    assert client.post(f"/{kind}", content="{}", headers=GOOD).status_code == 200


@pytest.mark.parametrize("body", [b'{"recipe": "# \\ud800"}', b'{"words": "\\udfff"}', b'{"page": "\\ud800"}'])
def test_half_a_letter_is_no_question(client: Client, here: Here, body: bytes) -> None:
    assert client.post("/see", content=body, headers=GOOD).status_code == 400
    assert here.asked == []
    assert client.post("/see", content=b'{"recipe": "# \\ud83c\\udf31"}', headers=GOOD).status_code == 200


@pytest.mark.parametrize("recipe", ["[" * 5000, "a = " + "[" * 5000, 'size = "' + "9" * 5000 + '"', "a.b" * 5000, "\0"])
def test_a_recipe_that_is_none_is_told_so(ask: Ask, recipe: str) -> None:
    for kind in ("see", "take"):
        assert ask(kind, recipe=recipe)["refused"][0][0]["words"]


@pytest.mark.parametrize("figures", ["9" * 5000, "\u00b2", "+1", "-0", "1.0", "1e3"])
@pytest.mark.parametrize("kind", _FILES)
def test_a_length_that_is_no_plain_number_is_refused(here: Here, kind: str, figures: str) -> None:
    app = desk_app(here, (HOST,), TOKEN, KEY, "out")
    own = [(b"host", HOST.encode()), *OWN, (b"x-desk-recipe-bytes", figures.encode("latin-1"))]
    whole = iter([{"type": "http.request", "body": b"<svg/>", "more_body": False}])
    assert _asked(app, own, whole, path=f"/{kind}") == 400
    assert here.asked == []


def _asked(
    app: Any, headers: list[tuple[bytes, bytes]], parts: Iterator[dict[str, Any]] | None = None, path: str = "/see"
) -> int:
    """Ask a desk in bare ASGI, and return the status of its answer; a body that has no more parts never ends."""
    sent: list[dict[str, Any]] = []

    async def receive() -> dict[str, Any]:
        part = next(parts or iter(()), None)
        if part is None:
            await asyncio.Event().wait()
            raise AssertionError
        return part

    async def send(message: dict[str, Any]) -> None:
        sent.append(message)

    scope = {
        "type": "http", "method": "POST", "path": path, "raw_path": path.encode(), "query_string": b"",
        "headers": headers,
        "http_version": "1.1", "scheme": "http", "server": ("127.0.0.1", 8642), "client": ("127.0.0.1", 1),
        "root_path": "",
    }  # fmt: skip
    asyncio.run(app(scope, receive, send))
    return int(sent[0]["status"])


OWN = [(b"x-desk-token", TOKEN.encode()), (b"cookie", COOKIE["cookie"].encode())]


@pytest.mark.parametrize(
    ("headers", "status"),
    [
        ([(b"host", HOST.encode()), (b"host", b"example.test")], 421),
        ([(b"host", HOST.encode()), (b"host", HOST.encode())], 421),
        ([], 421),
        ([(b"host", HOST.encode()), (b"origin", f"http://{HOST}".encode()), (b"origin", b"http://example.test")], 403),
        ([(b"host", HOST.encode()), (b"origin", b"")], 403),
    ],
)
def test_headers_that_stand_twice_or_not_at_all_let_nobody_in(
    here: Here, headers: list[tuple[bytes, bytes]], status: int
) -> None:
    app = desk_app(here, (HOST,), TOKEN, KEY, "out")
    assert _asked(app, [*headers, *OWN]) == status
    assert here.asked == []


def test_a_question_that_never_ends_is_let_go(here: Here, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guard, "_MOST_BODY_S", 0.05)
    app = desk_app(here, (HOST,), TOKEN, KEY, "out")
    drops = iter([{"type": "http.request", "body": b'{"recipe": ', "more_body": True}])
    assert _asked(app, [(b"host", HOST.encode()), *OWN], drops) == 408
    assert here.asked == []


@pytest.mark.parametrize(
    "inside",
    [
        '<image href="http://example.test/a.png" width="9" height="9"/>',
        '<image href="file:///etc/passwd" width="9" height="9"/>',
        '<use href="http://example.test/other.svg#leaf"/>',
        '<use href="/etc/passwd#leaf"/>',
        '<style>@import url("http://example.test/a.css"); path { fill: url(http://example.test/b.svg#c) }</style>',
        '<foreignObject width="9" height="9"><body xmlns="http://www.w3.org/1999/xhtml"><b>evil</b></body></foreignObject>',
        "<script>evil()</script>",
        '<a href="javascript:evil()"><path d="M 0 0 H 1 V 1 Z"/></a>',
        '<animate attributeName="href" to="javascript:evil()"/>',
        '<set onbegin="evil()"/>',
    ],
)
def test_a_drawing_reaches_nothing_and_nothing_of_it_comes_back_but_curves(
    client: Client, monkeypatch: pytest.MonkeyPatch, inside: str
) -> None:
    def reached(*args: Any) -> None:
        raise AssertionError(args)

    monkeypatch.setattr(socket.socket, "connect", reached)
    monkeypatch.setattr(socket, "getaddrinfo", reached)
    drawing = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="12mm" height="10mm" viewBox="0 0 12 10">'
        f'{inside}<path onclick="evil()" d="M 0 10 L 6 0 L 12 10 Z"/></svg>'
    )
    headers = {**GOOD, "x-desk-name": "a%3Cscript%3E.svg", "x-desk-recipe-bytes": "0"}
    response = client.post("/drawing", content=drawing, headers=headers)
    assert response.status_code == 200
    assert response.headers["content-type"] == "application/json"
    # A note may name what was left out, as the reader tells it; nothing is of use to a browser.
    values = response.json()
    assert values.get("motif") == "a-script" or values["refused"]
    for secret in ("evil", "<", "root:", "javascript"):
        assert secret not in response.text, secret
    assert "example.test" not in values.get("recipe", "") + json.dumps(values.get("shown"))


@pytest.mark.parametrize(
    "name",
    ["../evil", "..", "/etc/evil", "a/../../evil", "a\\\\..\\\\evil", ".evil", "evil\\u0000", "c:evil", "con", "."],
)
@pytest.mark.parametrize("kind", ["see", "take", "put"])
def test_no_name_of_a_piece_leads_out_of_the_folder(ask: Ask, tmp_path: Path, kind: str, name: str) -> None:
    recipe = RECIPE.replace("[[piece]]", f'[[piece]]\nname = "{name}"')
    words = "".join(part["words"] for part in ask(kind, recipe=recipe)["refused"][0])
    assert "file" in words
    assert list(tmp_path.iterdir()) == []


def test_names_in_an_archive_are_plain(client: Client) -> None:
    recipe = RECIPE.replace("[[piece]]", '[[piece]]\nname = "Güte & Co, 2..3"')
    response = client.post("/take", content=json.dumps({"recipe": recipe}), headers=GOOD)
    assert response.headers["content-disposition"].isascii()
    with zipfile.ZipFile(io.BytesIO(response.content)) as held:
        for entry in held.infolist():
            assert not set(entry.filename) & set('/\\:<>"|?*')
            assert not entry.filename.startswith(".")
            assert entry.external_attr >> 28 != 0xA  # no link


@pytest.mark.slow
def test_a_link_in_the_folder_is_not_written_through(ask: Ask, tmp_path: Path) -> None:
    ask("put", recipe=RECIPE)
    ours = tmp_path / "out" / "bean-leaf-16-on-76mm.svg"
    aim = tmp_path / "elsewhere.svg"
    for there in (b"mine", ours.read_bytes()):
        aim.write_bytes(there)
        ours.unlink()
        ours.symlink_to(aim)
        ask("put", recipe=RECIPE)
        assert aim.read_bytes() == there
    aim.unlink()
    ours.unlink(missing_ok=True)
    ours.symlink_to(aim)
    assert "did not write this file" in ask("put", recipe=RECIPE)["refused"][0][0]["words"]
    assert not aim.exists()
