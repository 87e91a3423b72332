"""A desk that is killed in mid-work, or its processes are: the page says so in words, keeps the recipe and goes on."""

from __future__ import annotations

import http.client
import os
import signal
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from .browser import IN_BROWSER, PATIENCE_MS, desk_at_work

pytestmark = IN_BROWSER


@pytest.fixture
def bare(browser: Any) -> Iterator[Any]:
    """A page that may complain of a desk that is not there."""
    context = browser.new_context()
    context.set_default_timeout(PATIENCE_MS)
    yield context.new_page()
    context.close()


def _of(address: str) -> tuple[int, str]:
    """Return the port of an address and its path with the key."""
    port, _, rest = address.removeprefix("http://127.0.0.1:").partition("/")
    return int(port), f"/{rest}"


def _processes_of(desk: int) -> list[int]:
    """Return the numbers of the processes that a desk has started and that answer questions."""
    tasks = Path(f"/proc/{desk}/task").glob("*/children")
    found = [int(number) for task in tasks for number in task.read_text(encoding="utf-8").split()]
    return [one for one in found if b"spawn_main" in Path(f"/proc/{one}/cmdline").read_bytes()]


def _count(page: Any, count: int) -> None:
    page.wait_for_selector(f"figure .counts button[aria-pressed=true]:has-text('{count} ')")


@pytest.mark.browser
@pytest.mark.skipif(not Path("/proc/self/task").is_dir(), reason="processes are looked up in /proc")
def test_what_is_killed_is_told_and_the_page_goes_on_where_it_was(bare: Any, tmp_path: Path) -> None:
    with desk_at_work(tmp_path / "out") as (address, desk):
        bare.goto(address)
        bare.click("figure .counts button >> nth=0")
        _count(bare, 15)
        for one in _processes_of(desk):
            os.kill(one, signal.SIGKILL)
        bare.click("figure .counts button >> nth=0")  # told or not, what comes next is answered
        bare.wait_for_selector("#bench:not([aria-busy])", state="attached")
        bare.click("figure .counts button:has-text('14 ')")
        _count(bare, 14)
        left = _processes_of(desk)
        assert left
        os.kill(desk, signal.SIGKILL)
        bare.click("figure .counts button:has-text('13 ')")
        bare.wait_for_selector("#refused:has-text('The desk does not answer. Start it again with: frameforge desk')")
        assert "count = 14" in bare.input_value("#recipe-text")
    with desk_at_work(tmp_path / "out", _of(address)[0]) as (again, _):
        bare.context.new_page().goto(again)  # as the command does
        bare.click("figure .counts button:has-text('13 ')")
        bare.wait_for_selector("#refused:has-text('This page is of an earlier desk. Load it again.')")
        bare.reload()
        _count(bare, 14)
        assert "count = 14" in bare.input_value("#recipe-text")
    assert not any(Path(f"/proc/{one}").exists() for one in left)


@pytest.mark.browser
@pytest.mark.parametrize(
    ("host", "origin", "status"),
    [
        ("example.test", None, 421), ("localhost:{port}", None, 303), ("127.0.0.1:{port}", None, 303),
        ("127.0.0.1:{port}", "http://example.test", 403), ("127.0.0.1:{port}", "http://localhost:{port}", 303),
    ],
)  # fmt: skip
def test_a_foreign_host_or_origin_is_refused_at_the_socket(
    address: str, host: str, origin: str | None, status: int
) -> None:
    port, path = _of(address)
    headers = {"Host": host.format(port=port)} | ({"Origin": origin.format(port=port)} if origin else {})
    asking = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    asking.request("GET", path, headers=headers)
    answer = asking.getresponse()
    assert answer.status == status
    assert (answer.getheader("set-cookie") is not None) == (status == 303)
    asking.close()


@pytest.mark.parametrize("path", ["/", "/see", "/drawing"])
def test_who_has_no_key_is_refused_at_the_socket_however_much_he_sends(address: str, path: str) -> None:
    port, _ = _of(address)
    asking = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    asking.request("POST", path, body=b"{" * 100_000, headers={"x-desk-token": "another"})
    assert asking.getresponse().status == 403
    asking.close()
