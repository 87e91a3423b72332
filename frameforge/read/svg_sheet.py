"""Style sheets matched to elements: which rules touch an element, from the weakest to the strongest.

tinycss2 reads the rules, cssselect2 the selectors (Selectors Level 4). Work is counted, since a few lines of CSS can
ask for more of it than a day holds.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any, Final
from xml.etree.ElementTree import Element

import cssselect2  # type: ignore[import-untyped]
import tinycss2  # type: ignore[import-untyped]

from frameforge.errors import InputError
from frameforge.read.svg_declarations import Declaration, read_rule_content

__all__ = ["match_sheets"]

_GREATEST_SHEET: Final = 200_000
_GREATEST_WORK: Final = 1_500_000
_GREATEST_NESTING: Final = 40_000
"""Most that ``_nesting`` of all selectors may come to: a second of Python 3.14 and 3.15, a hundredth of that before."""
_DATA: Final = re.compile(r"url\(\s*[\"']?data:[^)]*+\)")


def match_sheets(
    root: Element, sheets: Iterable[str], notes: list[str], *, where: str
) -> dict[Element, tuple[Declaration, ...]]:
    """Return the declarations of every element that a rule touches; the last of equal properties counts.

    What of the sheets was left out is added to ``notes``. Raises InputError where sheets are longer than 200,000
    characters (pictures and fonts inside them left aside) or their selectors ask for too much work.
    """
    text = "\n".join(_DATA.sub("none", sheet) for sheet in sheets)
    if len(text) > _GREATEST_SHEET:
        raise _too_much(where)
    matcher = cssselect2.Matcher()
    many = nesting = 0
    for prelude, declarations in _rules(text, notes):
        nesting += _nesting(prelude)
        if nesting > _GREATEST_NESTING:
            raise _too_much(where)
        for selector in _selectors(prelude, notes):
            matcher.add_selector(selector, declarations)
            many += 1
    work = _Work(where, each=many // 20 + 1)
    matches = {}
    for wrapper in _counted(work).from_xml_root(root).iter_subtree():
        found = matcher.match(wrapper)
        if found:
            found.sort(key=lambda match: (match[0], match[1]))
            matches[wrapper.etree_element] = tuple(item for match in found for item in match[3])
    return matches


def _rules(text: str, notes: list[str]) -> Iterable[tuple[Any, tuple[Declaration, ...]]]:
    """Return (selector, declarations) of all rules in their order; rules for the screen count, imports never."""
    stack = list(reversed(tinycss2.parse_stylesheet(text, skip_comments=True, skip_whitespace=True)))
    while stack:
        rule = stack.pop()
        if rule.type == "qualified-rule":
            yield rule.prelude, tuple(read_rule_content(rule.content))
        elif rule.type == "at-rule" and rule.lower_at_keyword == "import":
            notes.append("the drawing names a style sheet in another file, which is never opened.")
        elif rule.type == "at-rule" and rule.lower_at_keyword == "media" and rule.content is not None:
            media = tinycss2.serialize(rule.prelude).lower()
            if "screen" in media or "all" in media:
                inner = tinycss2.parse_rule_list(rule.content, skip_comments=True, skip_whitespace=True)
                stack.extend(reversed(inner))


def _nesting(tokens: list[Any]) -> int:
    """Return 2 to the power of a selector's steps to ancestors and earlier siblings, added up over a list of selectors.

    cssselect2 compiles each of them to a generator within the one before, and from 3.14 on Python takes twice as long
    for each further one: thirty would take a day. Steps within brackets count as steps of the whole.
    """
    total = steps = 0
    for before, token, after in zip([None, *tokens], tokens, [*tokens[1:], None], strict=False):
        if token.type in ("function", "[] block", "() block"):
            steps += _nesting(getattr(token, "arguments", getattr(token, "content", []))).bit_length() - 1
        elif _is_literal(token, ","):
            total, steps = total + (1 << steps), 0
        elif _is_literal(token, "~") or (token.type == "whitespace" and not _is_beside(before, after)):
            steps += 1
    return total + (1 << steps)


def _is_beside(before: Any, after: Any) -> bool:
    """Return whether white space at one of these, or at an end, is no step of its own."""
    return any(token is None or _is_literal(token, ",>+~|") for token in (before, after))


def _is_literal(token: Any, marks: str) -> bool:
    return bool(token.type == "literal" and token.value in marks)


def _selectors(prelude: Any, notes: list[str]) -> list[Any]:
    """Return the selectors of one rule that can match an element; none for a rule that cannot be read."""
    try:
        selectors = cssselect2.compile_selector_list(prelude)
    except (cssselect2.SelectorError, RecursionError, MemoryError, SyntaxError):
        notes.append("a rule of the style sheet could not be read and was left out.")
        return []
    return [selector for selector in selectors if selector.pseudo_element is None and not selector.never_matches]


class _Work:
    """Adds up the elements that selectors look at."""

    def __init__(self, where: str, *, each: int) -> None:
        self.where = where
        self.each = each
        self.done = 0

    def add(self, steps: int) -> None:
        """Add steps. Raises InputError when there are too many."""
        self.done += steps
        if self.done > _GREATEST_WORK:
            raise _too_much(self.where)


def _counted(work: _Work) -> Any:
    """Return cssselect2's view of an element, made to count how often it looks at others."""

    class Counted(cssselect2.ElementWrapper):  # type: ignore[misc]
        def __init__(self, *arguments: Any, **options: Any) -> None:
            work.add(work.each)
            super().__init__(*arguments, **options)

        @property
        def ancestors(self) -> Any:
            found = super().ancestors
            work.add(len(found) + 1)
            return found

        @property
        def previous_siblings(self) -> Any:
            work.add(self.index + 1)
            return () if self.previous is None else (*self.previous.previous_siblings, self.previous)

        @property
        def etree_siblings(self) -> Any:
            work.add(len(self._siblings))
            return self._siblings

        @etree_siblings.setter
        def etree_siblings(self, siblings: Any) -> None:
            self._siblings = siblings

    return Counted


def _too_much(where: str) -> InputError:
    return InputError(
        "its style sheet asks for too much work. Save the drawing with plain attributes instead of a style sheet.",
        where=where, code="too-large",
    )  # fmt: skip
