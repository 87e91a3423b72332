"""SVG text parsed into a tree of elements: no network, no other file, no bomb.

Python's expat through defusedxml; what an entity unfolds to is counted, since it may be many times the file.
"""

from __future__ import annotations

import zlib
from typing import Any, Final
from xml.etree.ElementTree import Element, ParseError

from defusedxml.common import DefusedXmlException
from defusedxml.ElementTree import DefusedXMLParser

from frameforge.errors import InputError
from frameforge.read.motif_folder import GREATEST_BYTES
from frameforge.read.svg_notes import one_line

__all__ = ["GREATEST_DEPTH", "GREATEST_ELEMENTS", "local_name", "read_tree"]

GREATEST_ELEMENTS: Final = 30_000
"""Elements of a drawing; a motif has tens, a map some thousands."""

GREATEST_DEPTH: Final = 200
"""Groups inside groups; drawing programs stay below 30."""

_FIRST_SIGN_BYTES: Final = 1000
"""Every XML text has its first "<" within so many bytes, whatever its encoding; pictures and PDFs often have none."""

_FAULTS: Final = {
    "mismatched tag": "an element is closed by the name of another",
    "unclosed token": "an element is not finished",
    "no element found": "the file breaks off before its end",
    "undefined entity": "an entity is used that is not declared",
    "unbound prefix": "a prefix is used that is not declared",
    "duplicate attribute": "an attribute stands twice in one element",
    "junk after": "something follows after the drawing's end",
    "amplification": "its entities unfold to many times the file",
    "recursive entity": "an entity is used inside itself",
    "invalid token": "a character stands where it cannot",
}
_SVG: Final = "http://www.w3.org/2000/svg"


def read_tree(data: bytes, *, where: str) -> Element:
    """Return the root element of an SVG drawing, plain or gzipped (.svgz).

    Raises InputError with one line where the data is empty, no well-formed XML, no SVG, names another file as an
    entity, or is larger than the limits of this module.
    """
    if data[:2] == b"\x1f\x8b":
        data = _unpacked(data, where)
    if len(data) > GREATEST_BYTES:
        raise _too_large(where, len(data))
    data = data.lstrip(b" \t\r\n")
    if not data:
        raise InputError("the file is empty. Save the drawing again as SVG.", where=where, code="empty-file")
    if b"<" not in data[:_FIRST_SIGN_BYTES]:
        raise InputError("this is no SVG text. Save the drawing as SVG.", where=where, code="no-svg")
    root = _parsed(data, where)
    if local_name(root) != "svg":
        raise InputError(
            f'the file holds "{one_line(str(root.tag).rpartition("}")[2])}", not an SVG drawing. '
            "Save the drawing as SVG.", where=where, code="no-svg",
        )  # fmt: skip
    return root


def local_name(element: Element) -> str:
    """Return the name of an SVG element ("path"), or "" for a comment and for elements of other languages.

    Elements in no namespace count as SVG: hand-written files forget the declaration.
    """
    tag = element.tag
    if tag.startswith("{"):
        return tag[len(_SVG) + 2 :] if tag.startswith(f"{{{_SVG}}}") else ""
    return tag


def _parsed(data: bytes, where: str) -> Element:
    """Return the root element of XML text."""
    parser: Any = DefusedXMLParser(forbid_entities=False, forbid_external=True)
    _Limits(where).attach(parser)
    try:
        parser.feed(data)
        root: Element = parser.close()
    except ParseError as fault:
        line, column = fault.position
        raise InputError(
            f"line {line}, character {column + 1}: {_fault_words(str(fault))}. Save the drawing again as SVG.",
            where=where, code="no-svg", line=line, column=column + 1,
        ) from None  # fmt: skip
    except DefusedXmlException:
        raise InputError(
            "the drawing asks for another file (an external entity), which is never opened. "
            "Save it again as a plain SVG.", where=where, code="external-entity",
        ) from None  # fmt: skip
    except (ValueError, LookupError):
        raise InputError(
            "its letters are in an encoding that is not known. Save it again as UTF-8.", where=where, code="no-svg"
        ) from None
    return root


def _fault_words(said: str) -> str:
    """Return expat's fault in the words of a maker."""
    for key, words in _FAULTS.items():
        if key in said:
            return words
    return "this is not SVG text"


class _Limits:
    """Counts what the parser meets and stops it: depth, elements, letters."""

    def __init__(self, where: str) -> None:
        self._where = where
        self._depth = self._elements = self._letters = 0

    def attach(self, parser: Any) -> None:
        """Put the counting in front of the parser's handlers."""
        expat = parser.parser
        build_start, build_end, build_text = parser._start, parser._end, parser.target.data

        def start(tag: str, attributes: list[str]) -> Any:
            self._open(attributes)
            return build_start(tag, attributes)

        def end(tag: str) -> Any:
            self._depth -= 1
            return build_end(tag)

        def text(letters: str) -> None:
            self._count(len(letters))
            build_text(letters)

        expat.StartElementHandler, expat.EndElementHandler, expat.CharacterDataHandler = start, end, text

    def _open(self, attributes: list[str]) -> None:
        self._depth += 1
        self._elements += 1
        if self._depth > GREATEST_DEPTH:
            raise _too_deep(self._where)
        if self._elements > GREATEST_ELEMENTS:
            raise _too_many(self._where)
        self._count(sum(map(len, attributes)))

    def _count(self, letters: int) -> None:
        self._letters += letters
        if self._letters > GREATEST_BYTES:
            raise _too_large(self._where, self._letters)


def _unpacked(data: bytes, where: str) -> bytes:
    """Return the text of a gzipped drawing, read no further than the limit."""
    unpacker = zlib.decompressobj(wbits=31)
    try:
        text = unpacker.decompress(data, GREATEST_BYTES + 1)
    except zlib.error:
        raise _broken(where) from None
    if not unpacker.eof and len(text) <= GREATEST_BYTES:
        raise _broken(where)
    return text


def _broken(where: str) -> InputError:
    return InputError("the packed drawing is broken. Save it again as SVG.", where=where, code="no-svg")


def _too_large(where: str, found: int) -> InputError:
    return InputError(
        f"the drawing holds more than {found // 1_000_000} MB, {GREATEST_BYTES // 1_000_000} MB is the most. "
        "Take out pictures and doubled parts.", where=where, code="too-large", found=found, limit=GREATEST_BYTES,
    )  # fmt: skip


def _too_many(where: str) -> InputError:
    return InputError(
        f"the drawing holds more than {GREATEST_ELEMENTS} elements. Save only the motif itself.",
        where=where, code="too-large", limit=GREATEST_ELEMENTS,
    )  # fmt: skip


def _too_deep(where: str) -> InputError:
    return InputError(
        f"groups lie inside groups more than {GREATEST_DEPTH} deep. Ungroup the drawing and save it again.",
        where=where, code="too-deep", limit=GREATEST_DEPTH,
    )  # fmt: skip
