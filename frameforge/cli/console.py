"""What a command says: lines for people, or one JSON object for programs and the lines beside it."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterable, Mapping
from typing import Any

from frameforge.errors import FrameforgeError

__all__ = ["failure_json", "print_json", "say", "say_fault"]


def say(lines: Iterable[str], *, beside_json: bool = False) -> None:
    """Print lines for people; ``beside_json`` sends them to stderr, since stdout then carries JSON only."""
    stream = sys.stderr if beside_json else sys.stdout
    for line in lines:
        print(line, file=stream)


def say_fault(lines: Iterable[str]) -> None:
    """Print what was refused, a line each, to stderr."""
    say(lines, beside_json=True)


def print_json(value: Mapping[str, Any]) -> None:
    """Print one JSON object on stdout, in ASCII so that every pipe carries it.

    Raises ValueError for numbers that JSON does not have.
    """
    say([json.dumps(value, allow_nan=False, indent=2)])


def failure_json(error: FrameforgeError, findings: Iterable[Mapping[str, Any]] = ()) -> dict[str, Any]:
    """Return what stands on stdout when a run with ``--json`` was refused."""
    return {
        "error": {"code": error.code, "exit": error.exit_code, "where": error.where, "say": "\n".join(error.lines)},
        "findings": list(findings),
    }
