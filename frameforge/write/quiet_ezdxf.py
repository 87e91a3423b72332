"""The one place that imports ezdxf.

Importing it searches the machine for fonts and writes what it found into a cache folder of the user; we write no text.
So it is shown, for the moment of the import, a cache of our own that holds no fonts: nothing is searched, nothing
written. Its notices (R12 carries no unit) go to whoever set up logging and not to the terminal.
"""

from __future__ import annotations

import logging
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

__all__ = ["new", "same_every_time"]

_CACHE_FOLDER: Final = "XDG_CACHE_HOME"


@contextmanager
def _without_fonts() -> Iterator[None]:
    """Point ezdxf's search for its cache to the one in this package, and put the environment back."""
    before = os.environ.get(_CACHE_FOLDER)
    os.environ[_CACHE_FOLDER] = str(Path(__file__).with_name("no_fonts"))
    try:
        yield
    finally:
        if before is None:
            del os.environ[_CACHE_FOLDER]
        else:
            os.environ[_CACHE_FOLDER] = before


with _without_fonts():
    from ezdxf import options  # type: ignore[attr-defined]  # public, but not in an __all__
    from ezdxf.filemanagement import new

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
