"""XML is parsed without bombs, other files or the network; every refusal is one line.

Sources: XML 1.0 (well-formedness, entities); the attacks are the usual ones listed by defusedxml's documentation.
"""

from __future__ import annotations

import gzip
import time

import pytest

from frameforge.errors import InputError
from frameforge.read.motif_folder import GREATEST_BYTES
from frameforge.read.svg_tree import GREATEST_DEPTH, GREATEST_ELEMENTS, local_name, read_tree

LAUGHS = '<!DOCTYPE svg [<!ENTITY a0 "hahahahaha">' + "".join(
    f'<!ENTITY a{i} "{f"&a{i - 1};" * 10}">' for i in range(1, 10)
)
BLOWN_UP = f'<!DOCTYPE svg [<!ENTITY a "{"a" * 100_000}">]><svg>{"<g>&a;</g>" * 3000}</svg>'

REFUSED = {
    "nothing": (b"", "the file is empty"),
    "blanks": (b" \n ", "the file is empty"),
    "half a file": (b"<svg><g>", "line 1, character 9: the file breaks off before its end"),
    "wrong nesting": (b"<svg>\n<g></svg>", "line 2, character 6: an element is closed by the name of another"),
    "no XML": (b"%PDF-1.4", "this is no SVG text"),
    "zeros": (bytes(100), "this is no SVG text"),
    "another language": (b"<html/>", 'the file holds "html", not an SVG drawing'),
    "another namespace": (b'<svg xmlns="http://www.w3.org/1999/xhtml"/>', 'the file holds "svg", not an SVG drawing'),
    "twice": (b'<svg a="1" a="2"/>', "line 1, character 12: an attribute stands twice"),
    "two roots": (b"<svg/><svg/>", "line 1, character 7: something follows after the drawing's end"),
    "prefix": (b"<svg><x:g/></svg>", "line 1, character 6: a prefix is used that is not declared"),
    "unknown entity": (b"<svg>&leaf;</svg>", "line 1, character 6: an entity is used that is not declared"),
    "unknown encoding": (b'<?xml version="1.0" encoding="brack-8"?><svg/>', "its letters are in an encoding"),
    "wrong encoding": ("<svg>é</svg>".encode("latin-1"), "line 1, character 6: a character stands where it cannot"),
    "entity loop": (
        b'<!DOCTYPE svg [<!ENTITY a "&b;"><!ENTITY b "&a;">]><svg>&a;</svg>',
        "line 1, character 57: an entity is used inside itself",
    ),
    "laughs in text": (f"{LAUGHS}]><svg>&a9;</svg>".encode(), "its entities unfold to many times the file"),
    "laughs in an attribute": (f'{LAUGHS}]><svg a="&a9;"/>'.encode(), "its entities unfold to many times the file"),
    "one large entity": (BLOWN_UP.encode(), ""),
    "external entity": (
        b'<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]><svg>&x;</svg>',
        "the drawing asks for another file (an external entity), which is never opened",
    ),
    "deep": (b"<svg>" + b"<g>" * 20_000, f"groups lie inside groups more than {GREATEST_DEPTH} deep"),
    "many": (b"<svg>" + b"<g/>" * (GREATEST_ELEMENTS + 1) + b"</svg>", f"more than {GREATEST_ELEMENTS} elements"),
    "large": (b"<svg>" + b" " * GREATEST_BYTES + b"</svg>", "the drawing holds more than 16 MB"),
    "packed bomb": (gzip.compress(b" " * 40_000_000), "the drawing holds more than 16 MB"),
    "broken pack": (b"\x1f\x8bfoo", "the packed drawing is broken"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_bad_files_are_refused_in_one_line_and_soon(case: str) -> None:
    data, said = REFUSED[case]
    start = time.process_time()
    with pytest.raises(InputError) as caught:
        read_tree(data, where="leaf.svg")
    assert time.process_time() - start < 5
    assert str(caught.value).startswith("leaf.svg: ")
    assert said in str(caught.value)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    "data",
    [
        b"<svg/>",
        b'\n<?xml version="1.0"?><svg/>',
        "<svg>é</svg>".encode("utf-16"),
        b"\xef\xbb\xbf<svg/>",
        '<?xml version="1.0" encoding="iso-8859-1"?><svg>é</svg>'.encode("latin-1"),
        gzip.compress(b"<svg/>", mtime=0),
        b'<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd"><svg/>',
        b'<!DOCTYPE svg [<!ENTITY ns "http://www.w3.org/2000/svg">]><svg xmlns="&ns;"/>',
        b'<!DOCTYPE svg [<!ENTITY % p SYSTEM "http://localhost:1/none.dtd"> %p;]><svg/>',
        b"<svg>" + b"<g>" * (GREATEST_DEPTH - 1) + b"</g>" * (GREATEST_DEPTH - 1) + b"</svg>",
    ],
)
def test_good_files_in_odd_dress_are_read(data: bytes) -> None:
    assert local_name(read_tree(data, where="leaf.svg")) == "svg"


def test_elements_of_other_languages_have_no_name() -> None:
    root = read_tree(
        b'<svg xmlns="http://www.w3.org/2000/svg" xmlns:b="urn:b"><path/><b:path/></svg>', where="leaf.svg"
    )
    assert [local_name(child) for child in root] == ["path", ""]


def test_what_is_no_text_of_elements_is_told_so() -> None:
    for data in (b"\x89PNG\r\n\x1a\n" + bytes(500), b"%PDF-1.4", b"hello", "hello".encode("utf-16")):
        with pytest.raises(InputError, match=r"^leaf\.svg: this is no SVG text\. Save the drawing as SVG\.$"):
            read_tree(data, where="leaf.svg")


def test_a_packed_drawing_that_breaks_off_is_told_so() -> None:
    packed = gzip.compress(b"<svg>" + b"<g/>" * 5000 + b"</svg>")
    assert local_name(read_tree(packed, where="leaf.svgz")) == "svg"
    with pytest.raises(InputError, match="the packed drawing is broken"):
        read_tree(packed[: len(packed) // 2], where="leaf.svgz")
