"""A drawing's tree with its ids and styles at hand: what is declared for an element, and what a reference names."""

from __future__ import annotations

from xml.etree.ElementTree import Element

from frameforge.read.svg_notes import Notes, one_line
from frameforge.read.svg_style import ROOT_STYLE, Cascade, Declarations, Style, inherit
from frameforge.read.svg_tree import local_name

__all__ = ["Index"]


class Index:
    """Answers questions about the elements of one tree; it never opens another file."""

    def __init__(self, tree: Element, notes: Notes, *, where: str = "") -> None:
        """Gather ids (the first of equal ones counts, as in a browser) and style sheets."""
        self.tree = tree
        self.notes = notes
        self._cascade = Cascade(tree, where=where)
        for note in self._cascade.notes:
            notes.add(note)
        self._ids: dict[str, Element] = {}
        for element in tree.iter():
            name = element.get("id")
            if name is not None:
                self._ids.setdefault(name, element)
        self._parents: dict[Element, Element] = {}
        self._places: dict[Element, int] = {}

    def declared(self, element: Element) -> Declarations:
        """Return the winning declaration of each property of an element."""
        return self._cascade.declared(element)

    def target(self, reference: str, kind: str = "") -> Element | None:
        """Return the element that ``#leaf`` or ``url(#leaf)`` names, where it is of the wanted kind; else None."""
        reference = reference.strip()
        if reference.startswith("url("):
            reference = reference[4:].rpartition(")")[0].strip(" \"'")
        if reference.startswith("#"):
            found = self._ids.get(reference[1:])
            return found if found is None or kind in ("", local_name(found)) else None
        if reference and reference != "none" and not reference.startswith("data:"):
            self.notes.add(f'the drawing asks for "{one_line(reference)}", another file, which is never opened.')
        return None

    def style_of(self, element: Element) -> Style:
        """Return the style an element has by its ancestors in the file."""
        if not self._parents:
            self._parents = {child: parent for parent in self.tree.iter() for child in parent}
        above = self._parents.get(element)
        style = ROOT_STYLE if above is None else self.style_of(above)
        return inherit(style, self.declared(element))

    def label(self, element: Element) -> str:
        """Return how a message calls an element: ``path "leaf"`` by its id, or ``path 3`` as the third path."""
        if element.get("id"):
            return f'{local_name(element)} "{one_line(str(element.get("id")))}"'
        if not self._places:
            counts: dict[str, int] = {}
            for other in self.tree.iter():
                counts[other.tag] = counts.get(other.tag, 0) + 1
                self._places[other] = counts[other.tag]
        return f"{local_name(element)} {self._places.get(element, 1)}"
