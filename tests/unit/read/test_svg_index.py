"""References, labels and styles by ancestors."""

from __future__ import annotations

from xml.etree.ElementTree import fromstring

from frameforge.read.svg_index import Index
from frameforge.read.svg_notes import Notes

TREE = fromstring(
    '<svg fill="red"><g stroke="blue"><path id="leaf"/><path/></g><rect id="leaf"/><clipPath id="c"/></svg>'
)


def test_a_reference_names_the_first_element_of_its_id() -> None:
    index = Index(TREE, Notes())
    assert index.target("#leaf") is TREE[0][0]
    assert index.target("url(#c)", "clipPath") is TREE[2]
    assert index.target("url( '#c' )", "clipPath") is TREE[2]
    assert index.target("url(#c)", "marker") is None
    assert index.target("#nowhere") is None
    assert index.target("none") is None


def test_other_files_are_named_and_never_opened() -> None:
    notes = Notes()
    assert Index(TREE, notes).target("http://localhost:1/shed.svg#spade") is None
    assert notes.to_tuple() == (
        'the drawing asks for "http://localhost:1/shed.svg#spade", another file, which is never opened.',
    )


def test_labels_are_ids_or_places_among_their_kind() -> None:
    index = Index(TREE, Notes())
    assert index.label(TREE[0][0]) == 'path "leaf"'
    assert index.label(TREE[0][1]) == "path 2"
    assert index.label(TREE[0]) == "g 1"


def test_a_style_comes_down_from_all_ancestors() -> None:
    style = Index(TREE, Notes()).style_of(TREE[0][1])
    assert style.fill.kind == style.stroke.kind == "colour"
    assert style.fill.rgb[0] == 1


def test_many_notes_are_counted() -> None:
    notes = Notes()
    for i in range(20):
        notes.add(f"note {i}.")
        notes.add("note 0.")
    assert len(notes.to_tuple()) == 13
    assert notes.to_tuple()[-1] == "8 more notes of this kind."
