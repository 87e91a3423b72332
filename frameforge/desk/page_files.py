"""The files of the page, read once from the package: no request ever names a path."""

from __future__ import annotations

import html
from collections.abc import Mapping
from dataclasses import dataclass
from importlib import resources
from typing import Final

__all__ = ["PageFile", "page_files"]

_KINDS: Final = {
    ".html": "text/html; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".ttf": "font/ttf",
    ".txt": "text/plain; charset=utf-8",
    ".svg": "image/svg+xml",
}
_FOLDERS: Final = ("desk/page", "picture/fonts")


@dataclass(frozen=True, slots=True)
class PageFile:
    """One file: what kind it is (a media type), and its bytes."""

    kind: str
    data: bytes


def page_files(values: Mapping[str, str]) -> dict[str, PageFile]:
    """Return every file of the page by its name, with ``values`` put where their keys stand in the page itself."""
    files: dict[str, PageFile] = {}
    for folder in _FOLDERS:
        for entry in resources.files("frameforge").joinpath(folder).iterdir():
            kind = _KINDS.get(f".{entry.name.rpartition('.')[2]}")
            if kind is not None:
                files[entry.name] = PageFile(kind, entry.read_bytes())
    page = files["index.html"].data.decode("utf-8")
    for key, value in values.items():
        page = page.replace(key, html.escape(value))
    files["index.html"] = PageFile(_KINDS[".html"], page.encode("utf-8"))
    return files
