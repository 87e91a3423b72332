"""Declarations ("fill: red") as text, and references in them; CSS's full grammar only where plain splitting fails.

tinycss2 is imported only for text with quotes, braces or escapes, and by style sheets.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any, Final

__all__ = ["Declaration", "read_declarations", "read_rule_content"]

Declaration = tuple[str, str, bool]
"""Property (lower case), value as text, whether it is ``!important``."""

_PLAIN: Final = re.compile(r"""[^"'\\{}@]*+""")
_COMMENT: Final = re.compile(r"/\*.*?(?:\*/|\Z)", re.DOTALL)
_IMPORTANT: Final = re.compile(r"!\s*important\s*\Z", re.IGNORECASE)


def read_declarations(text: str) -> Iterable[Declaration]:
    """Return the declarations of a style attribute, in order; what cannot be read is passed over."""
    if _PLAIN.fullmatch(text) is None:
        yield from read_rule_content(text)
        return
    for part in _COMMENT.sub(" ", text).split(";"):
        name, colon, value = part.partition(":")
        if colon and value.strip():
            plain = _IMPORTANT.sub("", value).strip()
            yield name.strip().lower(), plain, plain != value.strip()


def read_rule_content(content: Any) -> Iterable[Declaration]:
    """Return the declarations of CSS text, or of the tokens of a rule, by CSS Syntax Level 3."""
    import tinycss2  # type: ignore[import-untyped]

    try:
        declarations = tinycss2.parse_declaration_list(content, skip_comments=True, skip_whitespace=True)
        for declaration in declarations:
            value = tinycss2.serialize(declaration.value).strip() if declaration.type == "declaration" else ""
            if value:
                yield declaration.lower_name, value, declaration.important
    except RecursionError:
        return
