"""A command line written again from what was understood of it, to be copied with something added."""

from __future__ import annotations

import os
import shlex
import subprocess
from collections.abc import Mapping, Sequence
from typing import Any

__all__ = ["retyped"]


def retyped(command: str, argument: str | Sequence[str] | None, options: Mapping[str, Any]) -> str:
    """Return the line that says a command with its arguments and options, quoted for the shell it is typed into.

    ``options`` hold a text, several, or True for a switch; what was left out is None, () or False.
    """
    words = ["frameforge", command, *((argument,) if isinstance(argument, str) else argument or ())]
    for key, value in options.items():
        flag = f"--{key.strip('_').replace('_', '-')}"
        if value is True:
            words.append(flag)
        else:
            given = value if isinstance(value, tuple) else (value,) if value else ()
            words += [word for one in given for word in (flag, str(one))]
    return subprocess.list2cmdline(words) if os.name == "nt" else shlex.join(words)
