"""What is said of a run that was stopped."""

from __future__ import annotations

from collections.abc import Sequence

from frameforge.cli.console import failure_json, print_json, say_fault
from frameforge.cli.ending import end_code
from frameforge.errors import FrameforgeError

__all__ = ["stopped"]


def stopped(words: Sequence[str]) -> int:
    """Say that the run was stopped, as JSON too where the words of the command asked for it; return the exit code."""
    error = FrameforgeError("stopped. Pieces that were finished are complete.", where="frameforge", code="stopped")
    error.exit_code = end_code()
    say_fault(error.lines)
    if "--json" in words:
        print_json(failure_json(error))
    return error.exit_code
