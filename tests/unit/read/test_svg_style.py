"""Declarations win by CSS's cascade and are inherited by SVG's rules.

Sources: CSS Cascading and Inheritance Level 4 section 6 (order), Selectors Level 3 section 9 (specificity); SVG 2
section 6.6 (presentation attributes count as author rules of specificity 0).
"""

from __future__ import annotations

import subprocess
import sys
from xml.etree.ElementTree import Element, fromstring

import pytest

from frameforge.errors import InputError
from frameforge.read.svg_style import ROOT_STYLE, Cascade, inherit


def tree(sheet: str, body: str) -> Element:
    """Return the root of a drawing with a style sheet."""
    return fromstring(f'<svg xmlns="http://www.w3.org/2000/svg"><style>{sheet}</style>{body}</svg>')


def fill_of(sheet: str, body: str) -> str | None:
    """Return the declared fill of the element with id x."""
    root = tree(sheet, body)
    element = next(element for element in root.iter() if element.get("id") == "x")
    return Cascade(root, where="leaf.svg").declared(element).get("fill")


@pytest.mark.parametrize(
    ("sheet", "body", "wanted"),
    [
        ("", '<path id="x" fill="red"/>', "red"),
        ("path{fill:blue}", '<path id="x" fill="red"/>', "blue"),
        ("path{fill:blue}", '<path id="x" fill="red" style="fill: lime"/>', "lime"),
        ("path{fill:blue!important}", '<path id="x" fill="red" style="fill: lime"/>', "blue"),
        ("path{fill:blue!important}", '<path id="x" style="fill: lime ! important"/>', "lime"),
        (".a{fill:blue} path{fill:red}", '<path id="x" class="b a"/>', "blue"),
        ("#x{fill:blue} .a.b{fill:red}", '<path id="x" class="a b"/>', "blue"),
        (".a{fill:blue} .b{fill:red}", '<path id="x" class="a b"/>', "red"),
        ("g path{fill:blue}", '<g><a><path id="x"/></a></g>', "blue"),
        ("g>path{fill:blue}", '<g><a><path id="x"/></a></g>', None),
        ("g > path{fill:blue}", '<g><path id="x"/></g>', "blue"),
        ("path[d]{fill:blue}", '<path id="x" d=""/>', "blue"),
        ("*{fill:blue}", '<path id="x" fill="red"/>', "blue"),
        ("g,path{fill:blue}", '<path id="x"/>', "blue"),
        ("path:first-child{fill:blue}", '<g><path id="x"/></g>', "blue"),
        ("@media print{path{fill:red}} @media screen{path{fill:blue}}", '<path id="x"/>', "blue"),
        ("/* path{fill:red} */ path{fill:blue /* why */}", '<path id="x"/>', "blue"),
        ("path{fill:;fill blue}", '<path id="x" fill="red"/>', "red"),
        ("", "<path id='x' style='fill:red;/* ; */stroke:blue'/>", "red"),
        ("", """<path id='x' style='font-family:"a;fill:lime";fill:red'/>""", "red"),
    ],
)
def test_the_strongest_declaration_wins(sheet: str, body: str, wanted: str | None) -> None:
    assert fill_of(sheet.replace(">", "&gt;"), body) == wanted


def test_a_bad_rule_costs_itself_only_and_is_told() -> None:
    root = tree("path:::x{fill:red} path{fill:blue}", '<path id="x"/>')
    cascade = Cascade(root, where="leaf.svg")
    assert cascade.declared(root[1])["fill"] == "blue"
    assert any("could not be read" in note for note in cascade.notes)


def test_an_import_is_never_followed_but_told() -> None:
    cascade = Cascade(tree('@import "other.css"; path{fill:blue}', "<path/>"), where="leaf.svg")
    assert cascade.notes == ["the drawing names a style sheet in another file, which is never opened."]


def test_children_inherit_and_values_that_cannot_be_read_do_not_count() -> None:
    parent = inherit(ROOT_STYLE, {"fill": "none", "stroke-width": "3", "font-size": "20px", "fill-rule": "evenodd"})
    child = inherit(parent, {"fill": "mauvish", "fill-rule": "sideways", "font-size": "50%"})
    assert child.fill == parent.fill
    assert (child.fill_rule, child.stroke_width, child.font_px) == ("evenodd", "3", 10)
    assert inherit(child, {"fill": "initial"}).fill == ROOT_STYLE.fill
    assert inherit(child, {"fill": "inherit"}).fill == child.fill
    assert inherit(parent, {}) is parent


def test_the_marker_shorthand_stands_for_all_three() -> None:
    style = inherit(ROOT_STYLE, {"marker": "url(#m)", "marker-mid": "none"})
    assert (style.marker_start, style.marker_mid, style.marker_end) == ("url(#m)", "none", "url(#m)")


@pytest.mark.parametrize(
    ("selector", "is_read"),
    [
        (" ".join(["g"] * 12 + [".x"]), True),
        (" > ".join(["g"] * 12 + [".x"]), True),
        (" ".join(["g"] * 29 + [".x"]), False),
        ("~".join(["g"] * 29 + [".x"]), False),
        (f":is({' '.join(['g'] * 15)}) :not({' '.join(['b'] * 15)})", False),
        (" > ".join(["g"] * 29 + [".x"]), True),
        (", ".join(["a b"] * 200 + [".x"]), True),
    ],
)
def test_steps_that_newer_pythons_take_a_day_to_compile_are_refused(selector: str, is_read: bool) -> None:
    sheet, body = f"{selector.replace('>', '&gt;')}{{fill:red}}", f'{"<g>" * 30}<path id="x" class="x"/>{"</g>" * 30}'
    if is_read:
        assert fill_of(sheet, body) == "red"
    else:
        with pytest.raises(InputError, match=r"^leaf.svg: its style sheet asks for too much work\."):
            fill_of(sheet, body)


def test_plain_drawings_load_no_css_library() -> None:
    code = (
        "import sys; from frameforge.read.svg import read_drawing; "
        "read_drawing(b'<svg><path style=\"fill:#123;stroke:none\" d=\"M0 0H5V5Z\"/></svg>', where='a'); "
        "assert not {'tinycss2', 'cssselect2', 'fontTools'} & set(sys.modules)"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
