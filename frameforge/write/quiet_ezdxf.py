"""The one place that imports ezdxf.

Importing it searches the machine for fonts and writes what it found into a cache folder of the user; we write no text.
It also reads settings of the user, which may change what it writes, or lie in a home that this process may not enter.
So it is shown, for the moment of the import, a folder of our own that holds no fonts and no settings: nothing is
searched, nothing written. Its notices (R12 carries no unit) go to whoever set up logging and not to the terminal.
"""

from __future__ import annotations

import logging
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

__all__ = ["EZDXF_VERSION", "new", "same_every_time"]

_FOLDERS: Final = ("XDG_CACHE_HOME", "XDG_CONFIG_HOME")
_SETTINGS: Final = "EZDXF_CONFIG_FILE"


@contextmanager
def _as_anybody() -> Iterator[None]:
    """Point ezdxf's search for its cache and settings to the folder in this package, and put the environment back."""
    before = {name: os.environ.get(name) for name in (*_FOLDERS, _SETTINGS)}
    os.environ.update({name: str(Path(__file__).with_name("no_fonts")) for name in _FOLDERS})
    os.environ.pop(_SETTINGS, None)
    try:
        yield
    finally:
        for name, value in before.items():
            os.environ.pop(name, None)
            if value is not None:
                os.environ[name] = value


with _as_anybody():
    from ezdxf import options
    from ezdxf.filemanagement import new
    from ezdxf.version import __version__ as EZDXF_VERSION  # noqa: N812  a constant, as it is called here

logging.getLogger("ezdxf").addHandler(logging.NullHandler())


@contextmanager
def same_every_time() -> Iterator[None]:
    """Let ezdxf write fixed dates and identities while the block runs: same input, same bytes."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before
