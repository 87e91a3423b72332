"""What a command says: lines for people, or one JSON object for programs and the lines beside it."""

from __future__ import annotations

import contextlib
import json
import shutil
import sys
import textwrap
from collections.abc import Iterable, Mapping
from typing import Any, Final

from frameforge.errors import FrameforgeError

__all__ = ["Ended", "failure_json", "print_json", "say", "say_fault"]


_COMMAND: Final = "frameforge "

_CONTROLS: Final = dict.fromkeys(
    (*range(0x20), *range(0x7F, 0xA0), *range(0x2028, 0x202F), *range(0x2066, 0x206A), *range(0xD800, 0xE000)), "?"
)
"""Signs that names of files may hold: they would break a line or steer the terminal, or are bytes that are no text."""


class Ended(Exception):  # noqa: N818  no error: all went as it was asked
    """A run that has said and written all that it had; only its exit code is left to be given back."""

    def __init__(self, exit_code: int) -> None:
        super().__init__(f"exit code {exit_code}")
        self.exit_code = exit_code


def say(lines: Iterable[str], *, beside_json: bool = False) -> None:
    """Print lines for people; ``beside_json`` sends them to stderr, since stdout then carries JSON only.

    Each stays one line, whatever files and motifs are called.
    """
    stream = sys.stderr if beside_json else sys.stdout
    width = shutil.get_terminal_size().columns if stream.isatty() else 0
    for line in (line.translate(_CONTROLS) for line in lines):
        # A command line is there to be copied: the terminal breaks it where it likes, and it stays one line.
        is_whole = width == 0 or len(line) <= width or line.lstrip().startswith(_COMMAND)
        print(line if is_whole else _broken(line, width), file=stream)


def _broken(line: str, width: int) -> str:
    """Return a line broken between words for a terminal, what follows set in; other readers get whole lines."""
    before = line[: len(line) - len(line.lstrip())]
    words = textwrap.TextWrapper(
        max(width, 20), initial_indent=before, subsequent_indent=f"{before}    ", break_on_hyphens=False,
        break_long_words=False,
    )  # fmt: skip
    return words.fill(line.strip())


def say_fault(lines: Iterable[str]) -> None:
    """Print what was refused, a line each, to stderr; where that cannot be written, the exit code has to do."""
    with contextlib.suppress(OSError):
        say(lines, beside_json=True)


def print_json(value: Mapping[str, Any]) -> None:
    """Print one JSON object on stdout, in ASCII so that every pipe carries it.

    Raises ValueError for numbers that JSON does not have.
    """
    sys.stdout.write(json.dumps(value, allow_nan=False, indent=2) + "\n")


def failure_json(
    error: FrameforgeError, findings: Iterable[Mapping[str, Any]] = (), **more: Iterable[Mapping[str, Any]]
) -> dict[str, Any]:
    """Return what stands on stdout when a run with ``--json`` was refused; ``more`` are lists of its own."""
    return {
        "error": {"code": error.code, "exit": error.exit_code, "where": error.where, "say": "\n".join(error.lines)},
        "findings": list(findings),
        **{key: list(values) for key, values in more.items()},
    }
