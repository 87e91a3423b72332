"""The marker by which a file proves that frameforge wrote it and that nobody has edited it since."""

from __future__ import annotations

import hashlib
import re
import struct
import zlib
from typing import Final

__all__ = ["BLANK_MARKER", "digest", "is_marked", "marked_bytes", "marked_png", "marked_svg", "marked_text"]

_WORDS: Final = "frameforge marker sha256:"
_BLANK: Final = "0" * 64
_FOUND: Final = re.compile(_WORDS.encode("ascii") + rb"([0-9a-f]{64})")
_PNG: Final = b"\x89PNG\r\n\x1a\n"
_CHECKSUM_BYTES: Final = 4

BLANK_MARKER: Final = _WORDS + _BLANK
"""What a writer puts where the marker shall stand; it comes after everything the maker could have written."""


def digest(data: bytes) -> str:
    """Return the SHA-256 of the bytes as 64 hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def marked_text(text: str) -> str:
    """Return ``text`` with its last blank marker filled in: the digest of the text with the blank one, as UTF-8.

    Raises ValueError when there is no blank marker.
    """
    return marked_bytes(text.encode("utf-8")).decode("utf-8")


def marked_bytes(data: bytes) -> bytes:
    """Return the bytes of a file with their last blank marker filled in, as many as before: no offset in it changes.

    Raises ValueError when there is no blank marker.
    """
    before, words, after = data.rpartition(BLANK_MARKER.encode("ascii"))
    if not words:
        raise ValueError("it holds no blank marker")
    return before + f"{_WORDS}{digest(data)}".encode("ascii") + after


def marked_png(data: bytes) -> bytes:
    """Return the PNG picture with a marker in a comment before its end.

    The chunk layout is that of the PNG specification (W3C, third edition, 5.3 and 11.3.3.2): length, type, data,
    CRC-32 of type and data. Raises ValueError when the bytes are no PNG.
    """
    end = data.rfind(b"\x00\x00\x00\x00IEND")
    if not data.startswith(_PNG) or end < 0:
        raise ValueError("not a PNG picture")
    blank = data[:end] + _comment(BLANK_MARKER, is_blank=True) + data[end:]
    return data[:end] + _comment(_WORDS + digest(blank)) + data[end:]


def marked_svg(picture: str) -> bytes:
    """Return an SVG picture as UTF-8 with a marker in a comment before its end.

    Raises ValueError when the text does not end as an SVG does.
    """
    body, end, rest = picture.rpartition("</svg>")
    if not end or rest.strip():
        raise ValueError("not an SVG picture")
    return marked_bytes(f"{body}<!-- {BLANK_MARKER} -->{end}{rest}".encode())


def _comment(text: str, *, is_blank: bool = False) -> bytes:
    """Return a tEXt chunk; a blank one carries a checksum of zeros."""
    body = b"tEXtComment\0" + text.encode("ascii")
    checksum = 0 if is_blank else zlib.crc32(body)
    return struct.pack(">I", len(body) - 4) + body + struct.pack(">I", checksum)


def is_marked(data: bytes) -> bool:
    """Return whether the last marker in the bytes of a file agrees with the rest of them."""
    found = list(_FOUND.finditer(data))
    if not found:
        return False
    start, end = found[-1].span(1)
    blank = data[:start] + _BLANK.encode("ascii") + data[end:]
    if data.startswith(_PNG):
        stop = end + _CHECKSUM_BYTES
        if data[end:stop] != _comment(found[-1][0].decode("ascii"))[-_CHECKSUM_BYTES:]:
            return False
        blank = blank[:end] + bytes(_CHECKSUM_BYTES) + blank[stop:]
    return digest(blank) == found[-1][1].decode("ascii")
