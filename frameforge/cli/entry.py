"""Where a command line enters. What takes time to import comes after signals are caught: Ctrl-C works at once."""

from __future__ import annotations

import os
import sys

TYPE_CHECKING = False  # as type checkers know it; to import typing takes longer than all else here
if TYPE_CHECKING:
    from collections.abc import Sequence

__all__ = ["main"]

_GARBAGE_AFTER = 300_000


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command line and return its exit code.

    0 made, 2 input, 3 refused, 4 file, 70 our fault; 130 stopped by Ctrl-C, 143 by ``kill``, 129 with its terminal.
    """
    if argv is None:
        return _process()
    from frameforge.cli.answer import answered

    return answered(list(argv))


def _process() -> int:
    """Run the command line of this process, which lives for one run."""
    import gc

    from frameforge.cli.ending import catch, let_go

    words = sys.argv[1:]
    try:
        catch()
        # It frees hardly anything: looking for garbage every 700 objects would cost a tenth of the whole.
        gc.set_threshold(_GARBAGE_AFTER)
        # Equations of a few hundred unknowns: a second thread waits thirty times longer than it works.
        os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
        code = _answered(words)
    except KeyboardInterrupt:
        from frameforge.cli.stopped import stopped

        code = stopped(words)
    let_go()
    # At its end Python looks through all that is left for garbage: a tenth of a run, for nothing.
    gc.freeze()
    return code


def _answered(words: list[str]) -> int:
    """Answer the words, whatever becomes of the streams."""
    from frameforge.cli.streams import close_streams, hush, open_streams

    open_streams()
    from frameforge.cli.answer import answered

    try:
        return close_streams(answered(words))
    except OSError as fault:
        return hush(fault)


if __name__ == "__main__":
    sys.exit(main())
