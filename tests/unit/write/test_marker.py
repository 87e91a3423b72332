"""Markers: made, found, and broken by any change. SHA-256 as in FIPS 180-4, by hashlib."""

from __future__ import annotations

import zlib

import pytest

from frameforge.write.marker import BLANK_MARKER, digest, is_marked, marked_bytes, marked_png, marked_svg, marked_text
from frameforge.write.png import to_png

TEXT = f"cut here\n# {BLANK_MARKER}\nend\n"
PNG = to_png('<svg xmlns="http://www.w3.org/2000/svg" width="2mm" height="1mm" viewBox="0 0 2 1"/>', px_per_mm=4)


def test_the_digest_is_sha_256() -> None:
    assert digest(b"abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_a_marked_text_proves_itself() -> None:
    marked = marked_text(TEXT)
    assert marked != TEXT
    assert is_marked(marked.encode())


def test_any_change_breaks_the_proof() -> None:
    data = marked_text(TEXT).encode()
    for k in range(0, len(data), 3):
        changed = data[:k] + bytes([data[k] ^ 1]) + data[k + 1 :]
        assert not is_marked(changed), k
    assert not is_marked(data + b" ")
    assert not is_marked(data.replace(b"\n", b"\r\n"))


def test_without_a_marker_there_is_no_proof() -> None:
    assert not is_marked(b"")
    assert not is_marked(TEXT.encode())
    with pytest.raises(ValueError, match="no blank marker"):
        marked_text("cut here\n")


def test_the_last_marker_counts_so_that_no_recipe_can_stand_in_its_way() -> None:
    marked = marked_text(f"name = '{BLANK_MARKER}'\n{TEXT}")
    assert is_marked(marked.encode())
    assert BLANK_MARKER in marked


def test_a_picture_proves_itself_and_its_chunks_are_sound() -> None:
    assert is_marked(PNG)
    at = 8
    kinds = []
    while at < len(PNG):
        length = int.from_bytes(PNG[at : at + 4], "big")
        body = PNG[at + 4 : at + 8 + length]
        assert zlib.crc32(body) == int.from_bytes(PNG[at + 8 + length : at + 12 + length], "big")
        kinds.append(body[:4])
        at += 12 + length
    assert kinds[-2:] == [b"tEXt", b"IEND"]


def test_a_changed_picture_proves_nothing() -> None:
    for k in range(8, len(PNG)):
        assert not is_marked(PNG[:k] + bytes([PNG[k] ^ 4]) + PNG[k + 1 :]), k


def test_only_a_png_can_carry_the_marker_of_one() -> None:
    with pytest.raises(ValueError, match="not a PNG"):
        marked_png(b"GIF89a")


def test_bytes_keep_their_number_so_that_no_offset_in_a_file_changes() -> None:
    data = b"%PDF-1.3\xff /Keywords (" + BLANK_MARKER.encode() + b") startxref 9"
    marked = marked_bytes(data)
    assert is_marked(marked)
    assert len(marked) == len(data)
    assert not is_marked(marked.replace(b"\xff", b"\xfe"))


def test_an_svg_picture_is_marked_before_its_end() -> None:
    marked = marked_svg("<svg><text>frameforge</text></svg>\n")
    assert is_marked(marked)
    assert marked.endswith(b" --></svg>\n")
    assert not is_marked(marked.replace(b"<text>", b"<text >"))
    with pytest.raises(ValueError, match="not an SVG"):
        marked_svg("<html></html>")
