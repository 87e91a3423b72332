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
from frameforge.write.png import CSS_PX_PER_MM, to_png

if TYPE_CHECKING:
    from markdown_it.token import Token

__all__ = ["FIRST_PAGE", "manual_file"]

FIRST_PAGE: Final = "README"
"""The page that lists all others."""

_HTML: Final = "text/html; charset=utf-8"
_PAGE: Final = re.compile(r"([\w-]+)\.md")
_HEADING: Final = re.compile(r"^# (.+)$", re.MULTILINE)


def manual_file(name: str) -> PageFile | None:
    """Return a page by its name ("first-piece") or a picture by its ("pictures/thin-web.png"); None for neither."""
    if name in _pages():
        return PageFile(_HTML, _shown(name))
    picture = name.removeprefix("pictures/")
    if name == f"pictures/{picture}" and picture in _pictures():
        return PageFile("image/png", _drawn(picture))
    return None


@cache
def _pages() -> frozenset[str]:
    entries = resources.files("frameforge").joinpath("manual").iterdir()
    return frozenset(found[1] for entry in entries if (found := _PAGE.fullmatch(entry.name)))


@cache
def _pictures() -> frozenset[str]:
    """Return the names of all pictures as they are shown, all PNG: a browser has not the font of our SVGs."""
    entries = resources.files("frameforge").joinpath("manual", "pictures").iterdir()
    parts = (entry.name.rpartition(".") for entry in entries)
    return frozenset(f"{name}.png" for name, _, kind in parts if kind in ("svg", "png"))


@cache
def _drawn(name: str) -> bytes:
    """Return a picture as PNG."""
    folder = resources.files("frameforge").joinpath("manual", "pictures")
    drawing = folder.joinpath(name.removesuffix(".png") + ".svg")
    if not drawing.is_file():
        return folder.joinpath(name).read_bytes()
    return to_png(drawing.read_text(encoding="utf-8"), px_per_mm=CSS_PX_PER_MM)


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
            token.attrSet("src", f"/manual/{source.removesuffix('.svg').removesuffix('.png')}.png")
