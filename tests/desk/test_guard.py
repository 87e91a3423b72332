"""Who is let in: our own page on this computer, nobody else, and nothing that is too large or cannot be read."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from frameforge.desk.work import ReplacedError, StoppedError

from .conftest import COOKIE, HOST, KEY, RECIPE, TOKEN, Client, Here

GOOD = {"x-desk-token": TOKEN}
QUESTION = json.dumps({"recipe": RECIPE, "width": 400})


@pytest.mark.parametrize(
    "host", ["example.test", "example.test:8642", "127.0.0.1", "127.0.0.1:80", "127.0.0.1.example.test:8642", ""]
)
@pytest.mark.parametrize("path", ["/", "/page/main.js"])
def test_a_foreign_host_sees_nothing(client: Client, host: str, path: str) -> None:
    response = client.get(path, headers={"host": host})
    assert response.status_code == 421
    assert TOKEN not in response.text


@pytest.mark.parametrize(
    "origin", ["http://example.test", "https://127.0.0.1:8642", "http://127.0.0.1:9", "null", f"http://{HOST}.x"]
)
def test_a_foreign_origin_is_not_answered(client: Client, here: Here, origin: str) -> None:
    response = client.post("/see", content=QUESTION, headers={**GOOD, "origin": origin})
    assert response.status_code == 403
    assert here.asked == []


def test_a_page_of_another_site_is_not_answered(client: Client, here: Here) -> None:
    response = client.post("/see", content=QUESTION, headers={**GOOD, "sec-fetch-site": "cross-site"})
    assert response.status_code == 403
    assert here.asked == []


def test_our_own_page_is_answered(client: Client, here: Here) -> None:
    headers = {**GOOD, "origin": f"http://{HOST}", "sec-fetch-site": "same-origin"}
    assert client.post("/see", content=QUESTION, headers=headers).status_code == 200
    assert here.asked == ["see"]


@pytest.mark.parametrize("token", [None, "", "another", TOKEN[:-1], TOKEN + "x"])
@pytest.mark.parametrize(
    "kind", ["see", "take", "put", "motifs", "fonts", "drawing", "font", "open", "progress", "stop"]
)
def test_every_question_needs_the_token(client: Client, here: Here, kind: str, token: str | None) -> None:
    headers = {} if token is None else {"x-desk-token": token}
    assert client.post(f"/{kind}", content=QUESTION, headers=headers).status_code == 403
    assert (here.asked, here.stops) == ([], 0)


def test_every_answer_carries_the_policy(client: Client) -> None:
    for response in (client.get("/"), client.get("/nowhere"), client.get("/", headers={"host": "x"})):
        policy = response.headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert response.headers["x-content-type-options"] == "nosniff"


def test_the_page_holds_nothing_inline_and_fetches_nothing_from_elsewhere(client: Client) -> None:
    page = client.get("/").text
    assert " style=" not in page
    assert "<style" not in page
    assert "onclick" not in page
    assert "http" not in page.replace("http-equiv", "")


@pytest.mark.parametrize(
    "path",
    [
        "/page/../app.py", "/page/%2e%2e%2fapp.py", "/page/..%5capp.py", "/page//etc/passwd", "/page/app.py",
        "/page/__init__.py", "/../../etc/passwd", "/page/%00",
    ],
)  # fmt: skip
def test_no_path_leads_out_of_the_page(client: Client, path: str) -> None:
    response = client.get(path)
    assert response.status_code == 404
    assert "import" not in response.text


def test_what_is_too_large_is_refused(client: Client, here: Here) -> None:
    large = json.dumps({"recipe": "#" * 2_100_000})
    assert client.post("/see", content=large, headers=GOOD).status_code == 413
    chunks = (b"#" * 1_000_000 for _ in range(3))
    assert client.post("/see", content=chunks, headers=GOOD).status_code == 413
    assert client.post("/drawing", content=b"<" * 16_100_000, headers=GOOD).status_code == 413
    assert here.asked == []


@pytest.mark.parametrize(
    "body",
    [
        b"", b"{", b"[]", b"7", b"\xff\xfe", b'{"recipe": 7}', b'{"recipe": "", "options": []}', b"[" * 100_000,
        b'{"recipe": "", "options": {"size": 7}}', b'{"recipe": "", "leave_out": "size"}', b'{"width": "wide"}',
        b'{"width": NaN}', b'{"width": 1e400}', b'{"recipe": "", "options": {"motif": [["a"]]}}',
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_refused(client: Client, here: Here, body: bytes) -> None:
    response = client.post("/see", content=body, headers=GOOD)
    assert response.status_code == 400
    assert here.asked == []


@pytest.mark.parametrize("length", ["-1", "x", "999999999", "5"])
def test_a_file_whose_lengths_do_not_agree_is_refused(client: Client, here: Here, length: str) -> None:
    response = client.post("/drawing", content=b"<svg", headers={**GOOD, "x-desk-recipe-bytes": length})
    assert response.status_code == 400
    assert here.asked == []


@pytest.mark.parametrize(
    "row",
    [
        'motif = "../secret.svg"', 'motif = "/etc/passwd"', 'motif = ["arch", "a/b"]', 'motif = { motif = "x.svg" }',
        'motif = "arch"\nfiller = "x.svg"', "motif = 'c:\\x'",
    ],
)  # fmt: skip
@pytest.mark.parametrize("kind", ["see", "take", "put"])
def test_no_recipe_of_the_page_names_a_drawing(client: Client, tmp_path: Path, kind: str, row: str) -> None:
    body = json.dumps({"recipe": f'[[piece]]\nsize = "76mm"\n[[piece.row]]\n{row}\n'})
    values = client.post(f"/{kind}", content=body, headers=GOOD).json()
    assert "drawings by their names" in values["refused"][0][0]["words"]
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    "more",
    [
        '[sheets]\nused = ["x.svg"]', '[names]\nfile = "x.csv"',
        '[card.sand]\nused = "x.svg"',
    ],
)  # fmt: skip
def test_no_recipe_of_the_page_names_a_file(client: Client, more: str) -> None:
    body = json.dumps({"recipe": f"{RECIPE}{more}\n"})
    values = client.post("/see", content=body, headers=GOOD).json()
    assert "files by their names" in values["refused"][0][0]["words"]


@pytest.mark.parametrize("font", ["/etc/x.ttf", "../x.ttf", "c:/x.ttf", "x", "..", ".x.ttf", "x.ttf\\u0000"])
@pytest.mark.parametrize("kind", ["see", "take", "put"])
def test_no_recipe_of_the_page_names_the_place_of_a_font(client: Client, kind: str, font: str) -> None:
    body = json.dumps({"recipe": f'{RECIPE}[[piece.text]]\nwords = "a"\nfont = "{font}"\n'})
    values = client.post(f"/{kind}", content=body, headers=GOOD).json()
    assert "fonts by their places" in values["refused"][0][0]["words"]


@pytest.mark.parametrize(
    "options", [{"motif": ["../x.svg"]}, {"text": "a", "font": "../x.ttf"}, {"text.0.font": "/x.ttf"}]
)
def test_an_option_brings_no_path_in(client: Client, options: dict[str, object]) -> None:
    body = json.dumps({"recipe": RECIPE, "options": options})
    values = client.post("/see", content=body, headers=GOOD).json()
    assert values["is_changed"] is False
    assert values["recipe"] == RECIPE


def test_a_question_that_was_replaced_or_stopped_is_told_so(
    client: Client, here: Here, monkeypatch: pytest.MonkeyPatch
) -> None:
    async def replaced(kind: str, question: object, page: str = "") -> None:
        raise ReplacedError

    async def stopped(kind: str, question: object, page: str = "") -> None:
        raise StoppedError

    monkeypatch.setattr(here, "ask", replaced)
    assert client.post("/see", content=QUESTION, headers=GOOD).json() == {"replaced": True}
    monkeypatch.setattr(here, "ask", stopped)
    assert "Stopped" in client.post("/see", content=QUESTION, headers=GOOD).json()["refused"][0][0]["words"]
    assert client.post("/progress", content='{"page": "a"}', headers=GOOD).json()["words"] == "a"
    assert client.post("/progress", content="[]", headers=GOOD).json()["words"] == ""
    assert client.post("/stop", content="{}", headers=GOOD).status_code == 200
    assert here.stops == 1


@pytest.mark.parametrize(
    "cookie", ["", "desk-8642=", "desk-8642=another", f"desk-8643={KEY}", f"desk-8642={KEY}x", ";=;"]
)
@pytest.mark.parametrize(
    "path", ["/", "/?key=", "/?key=another", f"/?key={KEY}&key={KEY}", f"/page/main.js?key={KEY}", "/manual/"]
)
def test_who_did_not_come_by_the_line_of_the_terminal_sees_nothing(client: Client, path: str, cookie: str) -> None:
    response = client.get(path, headers={"cookie": cookie})
    assert response.status_code == 403
    assert response.text == "Open the desk by the whole address that the terminal shows: it holds a key."
    assert "set-cookie" not in response.headers


def test_the_token_alone_asks_nothing(client: Client, here: Here) -> None:
    response = client.post("/see", content=QUESTION, headers={**GOOD, "cookie": "desk-8642=another"})
    assert response.status_code == 403
    assert here.asked == []


def test_the_key_is_changed_at_once_for_a_cookie_that_no_script_and_no_other_site_sees(client: Client) -> None:
    response = client.get(f"/?key={KEY}", headers={"cookie": ""})
    assert (response.status_code, response.headers["location"]) == (303, "/")
    cookie, *terms = (part.strip() for part in response.headers["set-cookie"].split(";"))
    assert cookie == COOKIE["cookie"]
    assert {term.casefold() for term in terms} == {"httponly", "samesite=strict", "path=/"}
    assert client.get("/", headers={"cookie": f"other=1; {cookie}"}).status_code == 200
    foreign = client.get(f"/?key={KEY}", headers={"cookie": "", "host": "example.test"})
    assert (foreign.status_code, foreign.headers.get("set-cookie")) == (421, None)
