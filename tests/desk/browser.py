"""A desk as the command serves it, and Debian's chromium on it: what every test in a browser starts from."""

from __future__ import annotations

import contextlib
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

CHROMIUM = shutil.which("chromium")
PATIENCE_MS = 30_000

IN_BROWSER = [
    pytest.mark.slow,
    pytest.mark.skipif(CHROMIUM is None, reason="Debian's chromium is not installed"),
]
"""The marks of every such test; those that every run of the whole checks make are marked ``browser`` too."""


@contextlib.contextmanager
def desk_at_work(out: Path, port: int = 0) -> Iterator[tuple[str, int]]:
    """Run a desk as the command serves it, on a port (0: a free one); its address, and the number of its process."""
    code = (
        "import sys; from pathlib import Path; from frameforge.desk.answers import Folders; "
        "from frameforge.desk.serve import serve; serve(Folders(Path(sys.argv[1])), int(sys.argv[2]), opens=False, "
        "tell=lambda lines: print(*lines, sep='\\n', flush=True))"
    )
    desk = subprocess.Popen([sys.executable, "-c", code, str(out), str(port)], stdout=subprocess.PIPE, text=True)
    assert desk.stdout is not None
    found = re.search(r"http://127\.0\.0\.1:\d+/\?key=\S+", desk.stdout.readline())
    assert found
    try:
        yield found[0], desk.pid
    finally:
        desk.terminate()
        assert desk.wait(10) is not None
        desk.stdout.close()


@pytest.fixture(scope="session")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A desk for all tests in a browser, on a free port."""
    with desk_at_work(tmp_path_factory.mktemp("desk") / "out") as (told, _):
        yield told


@pytest.fixture(scope="session")
def browser() -> Iterator[object]:
    playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    with playwright.sync_playwright() as tool:
        chromium = tool.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield chromium
        chromium.close()


@pytest.fixture
def page(browser, address):  # type: ignore[no-untyped-def]
    """A fresh page on the desk; whatever it complains about fails the test."""
    context = browser.new_context(viewport={"width": 1280, "height": 1000}, accept_downloads=True)
    context.set_default_timeout(PATIENCE_MS)
    opened = context.new_page()
    complaints: list[str] = []
    opened.on("pageerror", lambda fault: complaints.append(str(fault)))
    opened.on("console", lambda line: complaints.append(line.text) if line.type == "error" else None)
    own = ("blob:", address.partition("?")[0])
    opened.on("request", lambda asked: None if asked.url.startswith(own) else complaints.append(asked.url))
    opened.goto(address)
    opened.wait_for_selector("#bench figure")
    yield opened
    context.close()
    assert complaints == []
