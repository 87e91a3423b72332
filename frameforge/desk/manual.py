"""The manual as the desk shows it: each page of plain Markdown as HTML, with its pictures.

markdown-it (CommonMark and tables) reads the pages with raw HTML switched off: every text of theirs is escaped, so
that the page's policy (nothing inline, nothing from outside) holds for them too. No request ever names a path: what
there is was looked up in the package once.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterable
from functools import cache
from importlib import resources
from typing import TYPE_CHECKING, Final

from frameforge.desk.page_files import PageFile

if TYPE_CHECKING:
    from markdown_it.token import Token

__all__ = ["FIRST_PAGE", "manual_file"]

FIRST_PAGE: Final = "README"
"""The page that lists all others."""

_HTML: Final = "text/html; charset=utf-8"
_PICTURES: Final = {"svg": "image/svg+xml", "png": "image/png"}
_PAGE: Final = re.compile(r"([\w-]+)\.md")
_HEADING: Final = re.compile(r"^# (.+)$", re.MULTILINE)


def manual_file(name: str) -> PageFile | None:
    """Return a page by its name ("first-piece") or a picture by its ("pictures/thin-web.svg"); None for neither."""
    if name in _pages():
        return PageFile(_HTML, _shown(name))
    picture = name.removeprefix("pictures/")
    if name == f"pictures/{picture}" and picture in _pictures():
        data = resources.files("frameforge").joinpath("manual", "pictures", picture).read_bytes()
        return PageFile(_PICTURES[picture.rpartition(".")[2]], data)
    return None


@cache
def _pages() -> frozenset[str]:
    entries = resources.files("frameforge").joinpath("manual").iterdir()
    return frozenset(found[1] for entry in entries if (found := _PAGE.fullmatch(entry.name)))


@cache
def _pictures() -> frozenset[str]:
    entries = resources.files("frameforge").joinpath("manual", "pictures").iterdir()
    return frozenset(entry.name for entry in entries if entry.name.rpartition(".")[2] in _PICTURES)


@cache
def _shown(name: str) -> bytes:
    """Return a page as HTML."""
    from markdown_it import MarkdownIt

    files = resources.files("frameforge")
    text = files.joinpath("manual", f"{name}.md").read_text(encoding="utf-8")
    reader = MarkdownIt("commonmark", {"html": False}).enable("table")
    tokens = reader.parse(text)
    _lead_here(tokens)
    heading = _HEADING.search(text)
    title = html.escape(heading[1].replace("`", "") if heading else name)
    page = files.joinpath("desk", "manual.html").read_text(encoding="utf-8")
    body = str(reader.renderer.render(tokens, reader.options, {}))
    return page.replace("{{title}}", title).replace("{{body}}", body).encode("utf-8")


def _lead_here(tokens: Iterable[Token]) -> None:
    """Turn links to other pages, and to pictures, into those that the desk answers."""
    for token in tokens:
        _lead_here(token.children or ())
        target = token.attrGet("href")
        if isinstance(target, str) and (found := _PAGE.fullmatch(target)):
            token.attrSet("href", "/manual/" if found[1] == FIRST_PAGE else f"/manual/{found[1]}")
        source = token.attrGet("src")
        if isinstance(source, str):
            token.attrSet("src", f"/manual/{source}")
