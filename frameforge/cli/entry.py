"""Where a command line enters: faults of usage, the run, and the exit code."""

from __future__ import annotations

import gc
import io
import os
import sys
from collections.abc import Sequence
from typing import Any, Final

import typer

from frameforge.cli.app import app
from frameforge.cli.console import INTERRUPTED, Ended, failure_json, print_json, say, say_fault
from frameforge.cli.questions import ALONE, question_lines
from frameforge.cli.usage import resolved, usage_faults
from frameforge.errors import FrameforgeError, InputError
from frameforge.job.findings import FindingsError, finding_json
from frameforge.job.left_over import LeftOverError

__all__ = ["INTERRUPTED", "main"]

_GARBAGE_AFTER: Final = 300_000


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command line and return its exit code: 0 made, 2 input, 3 refused, 4 file, 130 stopped, 70 our fault."""
    words = list(sys.argv[1:] if argv is None else argv)
    if argv is None:
        # A process of its own lives for one run and frees hardly anything: looking for garbage every 700 objects
        # would cost a tenth of the whole.
        gc.set_threshold(_GARBAGE_AFTER)
        # Equations of a few hundred unknowns: a second thread waits thirty times longer than it works.
        os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
        _print_what_can_be_printed()
    try:
        return _answered(words)
    finally:
        if argv is None:
            # At its end Python looks through all that is left for garbage: a tenth of a run, for nothing.
            gc.freeze()


def _answered(words: list[str]) -> int:
    """Run the words and return the exit code, every fault said."""
    try:
        return _run(words)
    except Ended as end:
        return end.exit_code
    except FrameforgeError as error:
        return _refused(error, words)
    except typer.TyperException as fault:
        return _refused(InputError(fault.format_message(), where="frameforge", code="usage"), words)
    except (KeyboardInterrupt, typer.Abort):
        return _stopped(words)
    except (BrokenPipeError, SystemExit):
        # Whoever read our output has gone (typer then exits); nothing can be said any more, and nothing is wrong.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except Exception as fault:  # noqa: BLE001  the last net: one line instead of a wall of text
        return _own_fault(fault, words)


def _print_what_can_be_printed() -> None:
    """Let a terminal that lacks a letter show a question mark in its place."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def _run(words: list[str]) -> int:
    """Parse and run the words; shell completion asks with its own variable and is left alone."""
    completes = "_FRAMEFORGE_COMPLETE" in os.environ
    if words in ALONE and not completes:
        say(question_lines())
        return 0
    root = typer.main.get_command(app)
    if completes:
        return int(root.main(words, prog_name="frameforge", standalone_mode=False) or 0)
    if faults := usage_faults(root, words):
        raise InputError.from_many(list(faults))
    command, name, rest = resolved(root, words)
    code = command.main(rest, prog_name=f"frameforge {name}".strip(), standalone_mode=False)
    if code == INTERRUPTED:
        # typer gives this number back instead of letting the interruption through.
        raise KeyboardInterrupt
    return code if isinstance(code, int) else 0


def _refused(error: FrameforgeError, words: list[str]) -> int:
    """Say what was refused, as JSON too where that was asked for."""
    say_fault(error.lines)
    findings = error.findings if isinstance(error, FindingsError) else ()
    if "--json" in words:
        left: Any = {"left_over": error.left_over} if isinstance(error, LeftOverError) else {}
        print_json(failure_json(error, [finding_json(finding) for finding in findings], **left))
    return error.exit_code


def _stopped(words: list[str]) -> int:
    """Say that the maker stopped the run."""
    error = FrameforgeError("stopped. Pieces that were finished are complete.", where="frameforge", code="stopped")
    error.exit_code = INTERRUPTED
    return _refused(error, words)


def _own_fault(fault: Exception, words: list[str]) -> int:
    """Say in one line that we are at fault and where to report it."""
    if os.environ.get("FRAMEFORGE_TRACE"):
        raise fault
    place = fault.__traceback__
    while place is not None and place.tb_next is not None:
        place = place.tb_next
    line = f"{os.path.basename(place.tb_frame.f_code.co_filename)}:{place.tb_lineno}" if place else "unknown place"
    what = f"{type(fault).__name__} at {line}: {fault}".splitlines()[0]
    error = FrameforgeError(f"a fault of our own ({what}). Report it as DEVELOPERS.md says.", where="frameforge")
    return _refused(error, words)


if __name__ == "__main__":
    sys.exit(main())
