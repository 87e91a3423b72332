"""A command line answered: faults of usage, the run, and the exit code."""

from __future__ import annotations

import errno
import os
from typing import Any

import typer

from frameforge.cli.app import app
from frameforge.cli.console import Ended, failure_json, print_json, say, say_fault
from frameforge.cli.ending import INTERRUPTED
from frameforge.cli.questions import ALONE, question_lines
from frameforge.cli.stopped import stopped
from frameforge.cli.streams import hush
from frameforge.cli.usage import resolved, usage_faults
from frameforge.errors import FileError, FrameforgeError, GeometryError, InputError
from frameforge.job.findings import FindingsError, finding_json
from frameforge.job.left_over import LeftOverError

__all__ = ["answered"]


def answered(words: list[str]) -> int:
    """Run the words of a command line and return the exit code, every fault said."""
    try:
        return _run(words)
    except Ended as end:
        return end.exit_code
    except FrameforgeError as error:
        return _refused(error, words)
    except typer.TyperException as fault:
        return _refused(InputError(fault.format_message(), where="frameforge", code="usage"), words)
    except (KeyboardInterrupt, typer.Abort):
        return stopped(words)
    except SystemExit:
        # Whoever read our output has gone: typer then exits.
        return hush(BrokenPipeError(errno.EPIPE, "gone"))
    except MemoryError:
        return _refused(_too_large(), words)
    except Exception as fault:  # noqa: BLE001  the last net: one line instead of a wall of text
        return _unforeseen(fault, words)


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
        try:
            print_json(failure_json(error, [finding_json(finding) for finding in findings], **left))
        except OSError as fault:  # at once, or when streams are closed, as they are buffered or not: as one
            return hush(fault, error.exit_code)
    return error.exit_code


def _too_large() -> FrameforgeError:
    """Return what is said when there is not memory enough."""
    say = "this takes more memory than there is. Make fewer pieces at a time, or close other programs."
    return GeometryError(say, where="frameforge", code="memory")


def _unforeseen(fault: Exception, words: list[str]) -> int:
    """Return the exit code for a stream that takes nothing in or a folder that is gone; else for a fault of our own."""
    if isinstance(fault, FileNotFoundError) and _is_nowhere():
        say = "the folder you are in is gone. Go to another one, and type it there."
        return _refused(FileError(say, where="frameforge", code="no-folder"), words)
    try:
        if isinstance(fault, OSError):
            return hush(fault)
    except OSError:
        pass
    return _own_fault(fault, words)


def _is_nowhere() -> bool:
    """Return whether the folder that this process is in has been removed."""
    try:
        os.getcwd()
    except OSError:
        return True
    return False


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
