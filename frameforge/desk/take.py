"""The files of a recipe: put into the chosen folder, or in one archive, with the bytes that the commands write."""

from __future__ import annotations

import io
import tempfile
import zipfile
from pathlib import Path
from typing import Final

from frameforge.desk.change import RECIPE_NAME, checked
from frameforge.desk.question import Tell
from frameforge.errors import FrameforgeError
from frameforge.job.made import Made
from frameforge.job.make import MakeOrder, make_recipe
from frameforge.job.motif_source import MotifSource

__all__ = ["archive", "guide_archive", "put"]

_LONG_AGO: Final = (1980, 1, 1, 0, 0, 0)
"""The date of every file in an archive, the earliest that the format knows: same pieces, same bytes."""


def put(recipe_text: str, out: Path, source: MotifSource, tell: Tell) -> list[str]:
    """Write the files of a recipe into ``out`` and return what is said of them.

    Raises what the command raises, and then wrote nothing.
    """
    return _made(recipe_text, out, source, tell).lines()


def archive(recipe_text: str, source: MotifSource, tell: Tell) -> tuple[str, bytes]:
    """Return the name and the bytes of a zip archive with the files of a recipe. Raises what the command raises."""
    with tempfile.TemporaryDirectory(prefix="frameforge-") as folder:
        made = _made(recipe_text, Path(folder), source, tell)
        files = _files(Path(folder))
    name = made.pieces[0].name if len(made.pieces) == 1 else "pieces"
    return f"{name}.zip", _zipped(files)


def guide_archive(recipe_text: str, motifs: Path | None) -> tuple[str, bytes]:
    """Return the name and the bytes of a zip archive with the full-size guides of a recipe, as ``guide`` writes them.

    ``motifs`` is the folder of the maker's own. Raises what the command raises.
    """
    from frameforge.job.guide import guide  # here, since few ask for one
    from frameforge.job.guide_order import GuideOrder

    checked(recipe_text)
    with tempfile.TemporaryDirectory(prefix="frameforge-") as folder:
        recipe, out = Path(folder) / f"{RECIPE_NAME}.toml", Path(folder) / "out"
        recipe.write_text(recipe_text, encoding="utf-8")
        try:
            made = guide(GuideOrder(recipe=recipe, options={}, out=out, motifs=motifs))
        except FrameforgeError as fault:
            # The maker knows of no such folder.
            fault.lines = tuple(line.replace(recipe.as_posix(), RECIPE_NAME) for line in fault.lines)
            raise
        files = _files(out)
    return f"{Path(made.files[0]).stem}.zip", _zipped(files)


def _files(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


def _made(recipe_text: str, out: Path, source: MotifSource, tell: Tell) -> Made:
    order = MakeOrder(recipe=source.beside / "recipe.toml", options={}, out=out, motifs=source.folder)
    return make_recipe(checked(recipe_text), order, tell)


def _zipped(files: dict[str, bytes]) -> bytes:
    """Return an archive of files by their names."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as whole:
        for name, data in files.items():
            whole.writestr(zipfile.ZipInfo(name, _LONG_AGO), data, zipfile.ZIP_DEFLATED)
    return held.getvalue()
