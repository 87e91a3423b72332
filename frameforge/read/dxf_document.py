"""A DXF file opened by ezdxf, text or binary, mended as far as ezdxf can."""

from __future__ import annotations

import io
import logging
from typing import TYPE_CHECKING, Final

from frameforge.errors import InputError

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document

__all__ = ["open_dxf"]

GREATEST_BYTES: Final = 50_000_000
BINARY: Final = b"AutoCAD Binary DXF\r\n\x1a\x00"
"""How a binary DXF begins (DXF reference, binary DXF files)."""


def open_dxf(data: bytes, *, where: str) -> Document:
    """Return the document. Raises InputError, one line, where the data is no DXF, breaks off or is too much."""
    if len(data) > GREATEST_BYTES:
        say = f"the file holds {len(data) // 1_000_000} MB, {GREATEST_BYTES // 1_000_000} MB is the most."
        raise InputError(f"{say} Save only the piece itself.", where=where, code="too-large")
    from ezdxf.lldxf.const import DXFError

    logging.getLogger("ezdxf").setLevel(logging.CRITICAL)
    is_whole = b"SECTION" in data[:100_000] and data.rstrip(b" \t\r\n\x00").endswith(b"EOF")
    try:
        if is_whole:
            return _opened(data)
        fault: Exception | None = None
    except (
        DXFError,
        OSError,
        ValueError,
        LookupError,
        TypeError,
        AttributeError,
        RecursionError,
        ArithmeticError,
    ) as f:
        fault = f
    say = "this is no DXF, or it breaks off. Save it again as DXF, R12 or R2000."
    raise InputError(say, where=where, code="no-dxf") from fault


def _opened(data: bytes) -> Document:
    if data.startswith(BINARY):
        from ezdxf.document import Drawing
        from ezdxf.lldxf.tagger import binary_tags_loader

        return Drawing.load(binary_tags_loader(data))
    from ezdxf import recover

    return recover.read(io.BytesIO(data))[0]
