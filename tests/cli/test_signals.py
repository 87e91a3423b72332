"""Ctrl-C, ``kill`` and a terminal that closes, at any moment: one line, the exit code of shells, no half-written file.

Exit codes: 128 and the number of the signal (POSIX.1-2017, Shell Command Language, 2.8.2, and common practice).
"""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from fixtures.process import COMMAND, process

from frameforge.write.marker import is_marked

pytestmark = pytest.mark.skipif(os.name == "nt", reason="signals of POSIX")

SAID = "frameforge: stopped. Pieces that were finished are complete.\n"
AT_AN_IMPORT = """
import os, sys
class Sends:
    def find_spec(self, name, path=None, target=None):
        if name == {module!r}:
            os.kill(os.getpid(), {number})
sys.meta_path.insert(0, Sends())
sys.argv = ["frameforge", *{words!r}]
from frameforge.cli.entry import main
sys.exit(main())
"""
NAMES = "name\n" + "".join(f"Name {k}\n" for k in range(40))
RECIPE = '[files]\nformats = ["svg"]\n[[piece]]\nname = "tag"\nsize = "40mm"\n[[piece.text]]\ncolumn = "name"\n'
COMMANDS = {
    "make": ("make", "--motif", "arch", "--count", "8", "--size", "76mm"),
    "batch": ("make", "tag.toml", "--names", "names.csv", "--workers", "2"),
    "nest": ("nest", "disc.svg:9", "--sheet", "A4", "--tries", "300"),
    "guide": ("guide", "--foot", "20", "--size", "100mm", "--count", "14"),
    "demo": ("demo",),
    "mend": ("mend", "disc.svg"),
    "desk": ("desk", "--no-open"),
}


@pytest.mark.parametrize(
    ("module", "signum", "code"),
    [
        ("frameforge.cli.streams", signal.SIGINT, 130),
        ("typer", signal.SIGINT, 130),
        ("frameforge.cli.make", signal.SIGTERM, 143),
        ("frameforge.job.make_any", signal.SIGHUP, 129),
    ],
)
def test_from_the_first_import_on_it_is_one_line(tmp_path: Path, module: str, signum: int, code: int) -> None:
    script = AT_AN_IMPORT.format(module=module, number=int(signum), words=["make", "--size", "50mm"])
    ran = subprocess.run([sys.executable, "-c", script], cwd=tmp_path, capture_output=True, text=True, timeout=60)
    assert (ran.returncode, ran.stdout, ran.stderr) == (code, "", SAID)
    assert not (tmp_path / "out").exists()


def test_what_pays_no_heed_goes_on(tmp_path: Path) -> None:
    """As ``nohup`` starts it: the terminal closes, and the run is made to its end."""
    script = AT_AN_IMPORT.format(module="frameforge.cli.make", number=int(signal.SIGHUP), words=["--version"])
    deaf = f"import signal; signal.signal(signal.SIGHUP, signal.SIG_IGN)\n{script}"
    ran = subprocess.run([sys.executable, "-c", deaf], cwd=tmp_path, capture_output=True, text=True, timeout=60)
    assert (ran.returncode, ran.stderr) == (0, "")
    assert ran.stdout.startswith("frameforge ")


def test_an_interruption_while_an_object_is_cleared_away_is_not_lost(tmp_path: Path) -> None:
    """Python lets no exception out of ``__del__``: it would print a wall of text and go on."""
    script = """
import os, signal, sys, time
from frameforge.cli.ending import catch, end_code
class Heavy:
    def __del__(self):
        os.kill(os.getpid(), signal.SIGTERM)
        time.sleep(0.01)
catch()
try:
    Heavy()
    time.sleep(30)
except KeyboardInterrupt:
    sys.exit(end_code())
"""
    ran = subprocess.run([sys.executable, "-c", script], cwd=tmp_path, capture_output=True, text=True, timeout=20)
    assert (ran.returncode, ran.stderr) == (143, "")


@pytest.mark.parametrize(("signum", "code"), [(signal.SIGINT, 130), (signal.SIGTERM, 143)])
def test_within_code_that_was_text_it_ends_by_its_exit_code(tmp_path: Path, signum: int, code: int) -> None:
    """As dataclasses make their methods: Python would end the process by SIGINT for a plain KeyboardInterrupt."""
    script = f"""
import os, sys
class Sends:
    def find_spec(self, name, path=None, target=None):
        if name == "typer":
            exec("import os; os.kill(os.getpid(), {int(signum)})")
sys.meta_path.insert(0, Sends())
sys.argv = ["frameforge", "make", "--size", "50mm"]
from frameforge.cli.entry import main
sys.exit(main())
"""
    (tmp_path / "sends.py").write_text(script, encoding="utf-8")
    ran = subprocess.run([sys.executable, "-m", "sends"], cwd=tmp_path, capture_output=True, text=True, timeout=60)
    assert (ran.returncode, ran.stdout, ran.stderr) == (code, "", SAID)


@pytest.mark.slow
@pytest.mark.parametrize("signum", [signal.SIGINT, signal.SIGTERM, signal.SIGKILL])
@pytest.mark.parametrize("command", sorted(COMMANDS))
def test_at_any_moment_it_is_one_line_and_whole_files(tmp_path: Path, command: str, signum: signal.Signals) -> None:
    """Six moments of a run, by a seed, sent to every process of the run as a terminal does; then the run is made again.

    What Python does before our first line is its own: the first moment is after it.
    """
    (tmp_path / "tag.toml").write_text(RECIPE, encoding="utf-8")
    (tmp_path / "names.csv").write_text(NAMES, encoding="utf-8")
    assert process("make", "--size", "60mm", "--name", "disc", "--formats", "svg", "--out", ".", cwd=tmp_path)
    words = [*COMMAND, *COMMANDS[command], "--out", "out"]
    whole_s = _timed(words, tmp_path) if command != "desk" else 4.0
    rng = random.Random(int(signum))
    for _ in range(6):
        child = subprocess.Popen(
            words, cwd=tmp_path, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, start_new_session=True
        )
        time.sleep(0.2 + rng.uniform(0, whole_s))
        if child.poll() is None:
            os.killpg(child.pid, signum)
        _, told = child.communicate(timeout=60)
        # On a slow machine the signal may come before our first line.
        assert child.returncode in (0, 128 + signum, -signum)
        # The desk says that it is cleared, on stdout.
        said = ("",) if child.returncode <= 0 else ("", SAID) if command == "desk" else (SAID,)
        assert told in said or signum == signal.SIGKILL
        _hold_whole(tmp_path / "out", is_clear=signum != signal.SIGKILL)
    if command != "desk":
        _timed(words, tmp_path)
        _hold_whole(tmp_path / "out", is_clear=True)


def _timed(words: list[str], folder: Path) -> float:
    """Make a whole run; return how long it took (s)."""
    begun = time.monotonic()
    subprocess.run(words, cwd=folder, capture_output=True, timeout=300, check=True)
    return time.monotonic() - begun


def _hold_whole(folder: Path, *, is_clear: bool) -> None:
    """Hold every file of a folder to be whole, and nothing to lie beside it where that can be asked."""
    for path in folder.glob("*"):
        assert not path.name.startswith(".frameforge") or not is_clear
        if path.suffix in (".svg", ".dxf", ".png", ".pdf", ".md") and not path.name.startswith("."):
            assert is_marked(path.read_bytes()), path.name
