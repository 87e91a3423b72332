"""What the page may ask, and who answers: every question is plain values, every answer plain values or bytes."""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import Any, Final

from frameforge.desk.as_cut import as_cut
from frameforge.desk.dimensions import dimensions
from frameforge.desk.drawing_in import opened_recipe, with_drawing
from frameforge.desk.findings import findings
from frameforge.desk.fit_chart import fit_chart
from frameforge.desk.fonts import font_gallery, with_font
from frameforge.desk.gallery import gallery
from frameforge.desk.measure import measure
from frameforge.desk.mended import mended
from frameforge.desk.question import Answer, Folders, Tell, untold
from frameforge.desk.see import refusal, see
from frameforge.desk.sheets import moved, near, sheets
from frameforge.desk.take import archive, put
from frameforge.errors import FrameforgeError
from frameforge.job.motif_source import MotifSource

__all__ = ["Answer", "Folders", "answer"]


def answer(kind: str, question: dict[str, Any], folders: Folders, tell: Tell = untold) -> Answer:
    """Return the answer to one question; ``tell`` is called as the work goes on.

    Faults of the maker's are answers too; a fault of ours is said in one line.
    """
    try:
        if kind in _TELLING:
            return _TELLING[kind](question, folders, tell)
        return _KINDS[kind](question, folders)
    except FrameforgeError as fault:
        return Answer(200, refusal(fault, tells_lines=True))
    except Exception as fault:  # the last net: one bad question shall not end the desk
        if os.environ.get("FRAMEFORGE_TRACE"):
            raise
        say = f"a fault of our own ({type(fault).__name__}). Report it as DEVELOPERS.md says."
        return Answer(500, {"refused": [[{"words": say}]], "code": "own-fault"})


def _source(folders: Folders) -> MotifSource:
    return MotifSource(folders.out, folders.motifs)


def _see(question: dict[str, Any], folders: Folders, tell: Tell) -> Answer:
    return Answer(200, see(question, _source(folders), tell))


def _findings(question: dict[str, Any], folders: Folders, tell: Tell) -> Answer:
    return Answer(200, findings(question, _source(folders), tell))


def _take(question: dict[str, Any], folders: Folders, tell: Tell) -> Answer:
    name, data = archive(str(question["recipe"]), _source(folders), tell, has_guide=question.get("guide") is True)
    return Answer(200, {"name": name}, data)


def _put(question: dict[str, Any], folders: Folders, tell: Tell) -> Answer:
    has_guide = question.get("guide") is True
    said = put(str(question["recipe"]), folders.out, _source(folders), tell, has_guide=has_guide)
    return Answer(200, {"said": said})


def _sheets(question: dict[str, Any], folders: Folders, tell: Tell) -> Answer:
    return Answer(200, sheets(question, _source(folders), tell))


def _fit(question: dict[str, Any], folders: Folders, tell: Tell) -> Answer:
    return Answer(200, fit_chart(question, _source(folders), tell))


def _motifs(question: dict[str, Any], folders: Folders) -> Answer:
    return Answer(200, {"motifs": gallery(folders.motifs, str(question.get("recipe", "")))})


def _drawing(question: dict[str, Any], folders: Folders) -> Answer:
    return Answer(200, with_drawing(str(question["recipe"]), str(question["name"]), bytes(question["data"])))


def _fonts(question: dict[str, Any], folders: Folders) -> Answer:
    return Answer(200, {"fonts": font_gallery(folders.out, str(question.get("words", "")))})


def _font(question: dict[str, Any], folders: Folders) -> Answer:
    return Answer(200, with_font(str(question["name"]), bytes(question["data"]), folders.out))


def _open(question: dict[str, Any], folders: Folders) -> Answer:
    return Answer(200, opened_recipe(str(question["name"]), bytes(question["data"])))


def _looking(look: Callable[[dict[str, Any], MotifSource], dict[str, Any]]) -> Callable[..., Answer]:
    """Return what answers a question about the pieces of a recipe that are looked at."""
    return lambda question, folders: Answer(200, look(question, _source(folders)))


_KINDS: Final[dict[str, Callable[[dict[str, Any], Folders], Answer]]] = {
    "dimensions": _looking(dimensions),
    "measure": _looking(measure),
    "as-cut": _looking(as_cut),
    "mended": _looking(mended),
    "moved": _looking(moved),
    "near": _looking(near),
    "motifs": _motifs,
    "fonts": _fonts,
    "font": _font,
    "drawing": _drawing,
    "open": _open,
}

_TELLING: Final[dict[str, Callable[[dict[str, Any], Folders, Tell], Answer]]] = {
    "see": _see,
    "findings": _findings,
    "take": _take,
    "put": _put,
    "sheets": _sheets,
    "fit": _fit,
}
"""Questions whose work tells how far it is."""
